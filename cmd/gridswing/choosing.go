package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/progress"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine"
	"gridswing/machine/check/choose"
	"gridswing/machine/check/proof"

	"github.com/spf13/cobra"
)

// choosingOptions are the flags of commands that choose between candidates.
type choosingOptions struct {
	rule, turned, vary string
	best               int
	all, full          bool
	json, csv          bool
	picture            string
	jobs               int
	turns              []float64 // of turned, in rad; nil: any
}

// flags defines those that all such commands have, after their own.
func (o *choosingOptions) flags(cmd *cobra.Command, rules ...string) {
	f := cmd.Flags()
	f.StringVar(&o.rule, "rule", "", "recommend by `RULE`: "+ruleWords(rules))
	f.IntVar(&o.best, "best", choose.DefaultBest, fmt.Sprintf("tell the best `N`, in their order (default %d)", choose.DefaultBest))
	f.BoolVar(&o.all, "all", false, "look at every candidate to the end, not only until the best are known")
	f.StringVar(&o.vary, "vary", "", "combine each with every `OTHER`: seat:PLACE or stick-out:T3=60..100/5 (mm)")
	f.StringVar(&o.picture, "picture", "", "draw the candidates into `FILE`.png")
	f.BoolVar(&o.full, "full", false, "tell of each candidate that fails by itself, not grouped by why")
	f.BoolVar(&o.json, "json", false, "write the answer as data (\"gridswing schema choice\" describes it)")
	f.BoolVar(&o.csv, "csv", false, "write a line of comma-separated values for each candidate")
	f.IntVar(&o.jobs, "jobs", 0, "use at most `N` cores (default all); the answer is the same")
	completeWords(cmd, "rule", rules...)
	completeOf(cmd, "vary", othersOf, cobra.ShellCompDirectiveNoSpace)
}

// ruleWords lists the rules that a command knows, the usual one first.
func ruleWords(rules []string) string {
	words := map[string]string{
		choose.Lowest: "the lowest that meets every demand", choose.Roomiest: "the one that leaves most", choose.Nearest: "the one that moves least",
	}
	var list []string
	for i, r := range rules {
		usual := ""
		if i == 0 {
			usual = " (default)"
		}
		list = append(list, r+usual+", "+words[r])
	}
	return strings.Join(list, "; ")
}

// refuse returns what is wrong with the call.
func (o *choosingOptions) refuse(cmd *cobra.Command, rules ...string) error {
	switch {
	case o.rule != "" && !slices.Contains(rules, o.rule):
		return wrong(helpHint(cmd), "--rule: found %q, expected one of: %s", o.rule, strings.Join(rules, ", "))
	case o.best < 1:
		return wrong(helpHint(cmd), "--best: found %d, expected 1 or more", o.best)
	case o.json && o.csv:
		return wrong(helpHint(cmd), "--json, --csv: found both, expected at most one of them")
	case o.picture != "" && filepath.Ext(o.picture) != ".png":
		return wrong("", "--picture: found %q, expected a name that ends in .png", o.picture)
	case o.picture != "" && !isFolder(filepath.Dir(o.picture)): // said before anything is looked at
		return wrong("", "--picture: found no folder %q, expected one that is there", filepath.ToSlash(filepath.Dir(o.picture)))
	}
	if o.rule == "" {
		o.rule = rules[0]
	}
	var err error
	if o.turns, err = parseTurns(o.turned); err != nil {
		return err
	}
	return limitJobs(cmd, o.jobs)
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// limitJobs refuses a number of cores that is none, and keeps to it.
func limitJobs(cmd *cobra.Command, jobs int) error {
	if jobs < 0 {
		return wrong(helpHint(cmd), "--jobs: found %d, expected 1 or more, or 0 for all cores", jobs)
	}
	if jobs > 0 {
		runtime.GOMAXPROCS(min(jobs, runtime.GOMAXPROCS(0))) // for what takes no number of jobs
	}
	return nil
}

// parseTurns reads degrees such as "0,90", as radians; nil for none.
func parseTurns(words string) (list []float64, err error) {
	if words == "" {
		return nil, nil
	}
	for part := range strings.SplitSeq(words, ",") {
		deg, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil || math.Abs(deg) > 360 {
			return nil, wrong("", "--turned: found %q, expected degrees, -360 to 360, such as 0,90,180", part)
		}
		list = append(list, deg/90*(math.Pi/2)) // quarter turns come out as poses turn by them
	}
	return list, nil
}

// lastWords is held by a command that has something to tell when it is interrupted, until it
// has told it.
var lastWords sync.RWMutex

// session is one call of a command that chooses: what is read, and where it is told.
type session struct {
	*choosingOptions
	cmd   *cobra.Command
	look  *looker
	draft *machine.Draft
	line  *progress.Line
}

// open reads the setup file.
func (o *choosingOptions) open(cmd *cobra.Command, name string) (*session, error) {
	line := progressOn(cmd.ErrOrStderr(), false)
	s := &session{choosingOptions: o, cmd: cmd, look: newLooker(o.jobs, line), line: line}
	var err error
	s.draft, err = s.look.draft(name)
	return s, err
}

// fault is an error of choosing, which names no file, with the setup's.
func (s *session) fault(err error) error {
	return fmt.Errorf("%s: %w", s.draft.Setup().File, err)
}

// options are how to choose. What is chosen from is named for the line of progress.
func (s *session) options(what string) choose.Options {
	watch := progress.Begin(s.line, what)
	return choose.Options{
		Options: proof.Options{
			Jobs: s.jobs, Trees: s.look.trees,
			Progress: func(_ string, done, total int) { watch.Show(done, total, -1) },
		},
		Rule: s.rule, Best: s.best, All: s.all,
		Known: func(e choose.Event) { watch.Show(e.Settled, e.Total, e.Good) },
	}
}

// tell writes an answer in one piece: data, values or words, whichever is asked for.
func (s *session) tell(data any, values, words func(w io.Writer) error) error {
	s.line.Clear()
	var b bytes.Buffer
	var err error
	switch {
	case s.json:
		err = json.NewEncoder(&b).Encode(data)
	case s.csv:
		err = values(&b)
	default:
		err = words(&b)
	}
	if err == nil {
		_, err = s.cmd.OutOrStdout().Write(b.Bytes())
	}
	return err
}

// draw writes the picture, if one is asked for and nobody has broken off.
func (s *session) draw(picture pictures.Drawing) error {
	ctx := s.cmd.Context()
	if s.picture == "" || ctx.Err() != nil {
		return ctx.Err()
	}
	img, err := picture.Draw(ctx)
	if err != nil {
		return err
	}
	if err := pictures.Write(ctx, s.picture, img); err != nil {
		return err
	}
	if !s.json && !s.csv {
		fmt.Fprintf(s.cmd.OutOrStdout(), "\nPicture\n   %s\n", s.picture)
	}
	return nil
}

// written is what to write into the files for the recommended candidate.
func (s *session) written(best *choose.Looked) ([]machine.Edit, error) {
	if best == nil {
		return nil, nil
	}
	return s.draft.Edits(best.Changes...)
}

// choice tells of candidates for one place.
func (s *session) choice(c *choose.Choice) error {
	edits, err := s.written(c.Recommended())
	if err != nil {
		return err
	}
	err = s.tell(c, func(w io.Writer) error { return text.ChoiceValues(w, c) },
		func(w io.Writer) error {
			return text.Choice(w, terminal.LookOf(s.cmd.OutOrStdout()), c, edits, s.full)
		})
	if err != nil {
		return err
	}
	var picture pictures.Drawing
	if s.picture != "" {
		if picture, err = pictures.OfChoice(s.draft, c); err != nil {
			return err
		}
	}
	if err := s.draw(picture); err != nil {
		return err
	}
	return verdictOf(c.Recommended() != nil)
}

// table tells of all pairs of two lists.
func (s *session) table(rows, columns choose.Line) error {
	if n := len(rows.Candidates) * len(columns.Candidates); n > mostPairs {
		return wrong("", "--vary: found %d times %d candidates, expected no more than %d together", len(rows.Candidates), len(columns.Candidates), mostPairs)
	}
	t, err := choose.Vary(s.cmd.Context(), s.draft, rows, columns, s.options(capital(rows.What)+", "+columns.What))
	if err != nil {
		return s.fault(err)
	}
	edits, err := s.written(t.Recommended())
	if err != nil {
		return err
	}
	err = s.tell(t, func(w io.Writer) error { return text.TableValues(w, t) },
		func(w io.Writer) error {
			return text.Table(w, terminal.LookOf(s.cmd.OutOrStdout()), t, edits, s.full)
		})
	if err != nil {
		return err
	}
	if err := s.draw(pictures.OfTable(t)); err != nil {
		return err
	}
	return verdictOf(t.Recommended() != nil)
}

// mostPairs bounds how many combinations are looked at.
const mostPairs = 100_000

func verdictOf(good bool) error {
	if good {
		return nil
	}
	return errNotClear
}

func capital(words string) string { return strings.ToUpper(words[:1]) + words[1:] }

// draft reads a setup file to be varied.
func (l *looker) draft(name string) (*machine.Draft, error) {
	if err := noSolid(name); err != nil {
		return nil, err
	}
	return l.store.Draft(name)
}
