package main

import (
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check/choose"

	"github.com/spf13/cobra"
)

var riserRules = []string{choose.Lowest, choose.Roomiest, choose.Nearest}

// riserOptions are the flags of risers.
type riserOptions struct {
	choosingOptions
	catalogue []string
	place     string
	most      int
	between   string
	span      [2]float64 // of between, mm
}

func newRisers() *cobra.Command {
	var o riserOptions
	cmd := &cobra.Command{
		Use:   "risers SETUP",
		Short: "Tell which riser, or stack of them, fits best",
		Long: `Puts every riser of a catalogue, and every stack of them, where the riser of
a setup stands, with all that stands on it. Looks at each as "gridswing check"
does, and tells which ones meet every demand, which of them is best by a rule,
and what it leaves. With --between it tells which heights a spacer may have
that is still to be made.`,
		Example: `  gridswing risers setups/op10.toml --catalogue components/risers
  gridswing risers setups/op10.toml --catalogue components/risers --rule roomiest --picture risers.png
  gridswing risers setups/op10.toml --between 40..120`,
		Args: arguments(1, 1, "setup"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.misuse(cmd); err != nil {
				return err
			}
			return o.run(cmd, args[0])
		},
	}
	cmd.ValidArgsFunction = completeFiles("toml")
	f := cmd.Flags()
	f.SortFlags = false
	f.StringArrayVar(&o.catalogue, "catalogue", nil, "choose from component `FILE`s, or all in a folder, not in folders in it; may be given more than once")
	f.StringVar(&o.place, "place", "", "replace what stands at `PLACE` (default: the setup's only riser)")
	f.IntVar(&o.most, "most", choose.MostStacked, fmt.Sprintf("stack at most `N` (default %d)", choose.MostStacked))
	f.StringVar(&o.between, "between", "", "tell which heights of a spacer are good, of `RANGE` such as 40..120 (mm)")
	f.StringVar(&o.turned, "turned", "", "with --vary seat: only turned by one of `DEGREES` against now")
	o.flags(cmd, riserRules...)
	completeOf(cmd, "place", placesOf, cobra.ShellCompDirectiveDefault)
	return cmd
}

var rangeForm = regexp.MustCompile(`^` + decimalForm + `\.\.` + decimalForm + `$`)

// misuse returns what is wrong with the call.
func (o *riserOptions) misuse(cmd *cobra.Command) error {
	switch {
	case len(o.catalogue) == 0 && o.between == "":
		return wrong("component files, or a folder of them", "found no --catalogue, expected risers to choose from, or --between")
	case o.most < 1 || o.most > mostStacked:
		return wrong(helpHint(cmd), "--most: found %d, expected 1 to %d", o.most, mostStacked)
	case o.turned != "" && !strings.HasPrefix(o.vary, "seat:"):
		return wrong("", "--turned: found it without --vary seat:PLACE, expected both or neither")
	case o.between != "":
		for _, name := range []string{"rule", "best", "all", "vary"} {
			if cmd.Flags().Changed(name) {
				return wrong(helpHint(cmd), "--between, --%s: found both, expected at most one of them", name)
			}
		}
		if err := o.parseBetween(); err != nil {
			return err
		}
	}
	return o.refuse(cmd, riserRules...)
}

// mostStacked bounds how many risers stand on each other: more do not stand well.
const mostStacked = 6

// parseBetween reads a range of heights.
func (o *riserOptions) parseBetween() error {
	m := rangeForm.FindStringSubmatch(o.between)
	if m != nil {
		o.span[0], _ = strconv.ParseFloat(m[1], 64) // what is beyond float64 is infinite
		o.span[1], _ = strconv.ParseFloat(m[2], 64)
	}
	if from, to := o.span[0], o.span[1]; !(from > 0 && from < to && to <= mostHeight) {
		return wrong("", "--between: found %q, expected two heights in mm, the lower one first, no more than %d, such as 40..120", o.between, mostHeight)
	}
	return nil
}

// mostHeight bounds the height of a spacer, mm: it is more than a machine has room for.
const mostHeight = 2000

func (o *riserOptions) run(cmd *cobra.Command, name string) error {
	s, err := o.open(cmd, name)
	if err != nil {
		return err
	}
	if o.place == "" {
		if o.place, err = s.draft.Riser(); err != nil {
			return s.fault(err)
		}
	}
	lastWords.RLock()
	defer lastWords.RUnlock()
	if o.between != "" {
		return o.heights(s)
	}
	cat, err := s.look.store.Catalogue(o.catalogue...)
	if err != nil {
		return err
	}
	if o.vary == "" {
		c, err := choose.Risers(cmd.Context(), s.draft, o.place, cat, o.most, s.options("Stacks at "+o.place))
		if err != nil {
			return s.fault(err)
		}
		return s.choice(c)
	}
	rows, _, err := choose.RiserLine(s.draft, o.place, cat, o.most)
	if err != nil {
		return s.fault(err)
	}
	columns, err := s.varied(o.turns)
	if err != nil {
		return err
	}
	return s.table(rows, columns)
}

// heights tells which heights a spacer may have, and which stacks of the catalogue have such.
func (o *riserOptions) heights(s *session) error {
	var stock []choose.Candidate
	if len(o.catalogue) > 0 {
		cat, err := s.look.store.Catalogue(o.catalogue...)
		if err != nil {
			return err
		}
		line, _, err := choose.RiserLine(s.draft, o.place, cat, o.most)
		if err != nil {
			return s.fault(err)
		}
		for _, c := range line.Candidates {
			if math.Abs(c.Height-(o.span[0]+o.span[1])/2) <= (o.span[1]-o.span[0])/2 {
				stock = append(stock, c)
			}
		}
	}
	h, err := choose.FindHeights(s.cmd.Context(), s.draft, o.place, o.span[0], o.span[1], s.options("Heights at "+o.place))
	if err != nil {
		return s.fault(err)
	}
	err = s.tell(h, func(w io.Writer) error { return text.HeightValues(w, h) },
		func(w io.Writer) error {
			return text.Heights(w, terminal.LookOf(s.cmd.OutOrStdout()), h, stock...)
		})
	if err != nil {
		return err
	}
	if err := s.draw(pictures.OfHeights(h, stock)); err != nil {
		return err
	}
	return verdictOf(h.Lowest != nil)
}
