package main

import (
	"slices"
	"testing"

	"gridswing/render"
	"gridswing/render/ink"
)

// Guards are a veil, and the nearer of two hides the other: they are left out where another veil is
// asked for, unless they are what is asked for.
func TestGuardsHideNoOtherVeil(t *testing.T) {
	for _, test := range []struct {
		veils  []string
		swept  bool
		guards bool // shown
		told   bool
	}{{nil, false, true, false}, {[]string{"trunnion"}, false, false, true}, {nil, true, false, true}, {[]string{"trunnion", "machine/guards"}, false, true, true /* the door is left out */}} {
		cmd := newPicture()
		cmd.SetContext(t.Context())
		o := pictureOptions{view: "isometric", size: "400x300", veils: test.veils, swept: test.swept}
		p, _, err := o.picture(cmd, "../../models/demo/setups/bracket-op10.toml", ink.Light)
		if err != nil {
			t.Fatal(err)
		}
		shown := slices.ContainsFunc(p.Items, func(it render.Item) bool { return it.Name == "machine/guards" && it.Emphasis == render.Ghost })
		told := slices.Contains(p.Caption, "Guards are left out, so that they hide no other veil.")
		if shown != test.guards || told != test.told {
			t.Errorf("veils %q, swept %v: guards are shown: %v, are told to be left out: %v", test.veils, test.swept, shown, told)
		}
	}
}
