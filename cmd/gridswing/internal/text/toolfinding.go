package text

import (
	"fmt"
	"strings"

	"gridswing/machine/check"
)

// toolQuestion says in words what was asked of a tool, an operation or a feature; ""
// for what is asked of bodies alone.
func toolQuestion(f *check.Finding) string {
	switch f.Question {
	case check.Reaching:
		return "on the way in, at depth and out"
	case check.LeftOut:
		return "left out, nothing was looked at"
	case check.Presents:
		return "whether a rotary position presents it"
	case check.Travels:
		return "whether the axes have the travel"
	case check.Rapids:
		return "in rapid, from feature to feature"
	case check.Indexing:
		return "while the rotary axes index, the tool at its height"
	case check.Changing:
		return "while tools are changed"
	case check.Stored:
		return "whether the magazine takes it"
	case check.Keyed:
		if f.Line > 0 {
			return "what the program moves with"
		}
		return "what to key in"
	case check.Stacked:
		return "whether it goes together"
	case check.Located:
		return "how far off it can be"
	case check.Heads:
		return "the head of a screw, where the setup is loaded"
	case check.Driving:
		return "a driver on its way to a screw"
	case check.Posted:
		return "the posted program, move by move"
	case check.Gouging:
		return "a cutter against the finished part"
	case check.Carrying:
		return "whether it may carry what stands on it"
	}
	return ""
}

// placeOf names operation, feature and tool of a finding: "drill sides, hole 2, T4".
func placeOf(f *check.Finding) string {
	var parts []string
	for _, name := range []string{f.Operation, f.Feature} {
		if name != "" {
			parts = append(parts, name)
		}
	}
	if f.Tool != nil {
		parts = append(parts, fmt.Sprintf("T%d", *f.Tool))
	}
	return strings.Join(parts, ", ")
}
