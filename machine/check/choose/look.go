package choose

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/driver"
	"gridswing/machine/check/loads"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/reach"
	"gridswing/machine/check/stack"
	"gridswing/machine/check/swing"
)

// Look looks at one candidate briefly, the concerns that cost least first, and says what the
// full check would say of it: the same verdict of each concern, and how much is left of
// what is demanded; where the candidate changes nothing about that (see proof.Options.Common),
// only if it is not met. The only error is the context's; a candidate that cannot be put together
// is faulty.
func Look(ctx context.Context, d *machine.Draft, c Candidate, o Options) (Looked, error) {
	found, _, err := look(ctx, d, c, o, nil, func(_ int, l *Looked) string {
		if o.GiveUp == nil {
			return ""
		}
		return o.GiveUp(l)
	})
	return found, err
}

// look is Look with the witnesses of other candidates. After each but the last stage giveUp is
// asked whether to leave it at that, and why. It returns the witness of what meets as well,
// if there is one.
func look(ctx context.Context, d *machine.Draft, c Candidate, o Options, known []*witness, giveUp func(stage int, l *Looked) string) (Looked, *witness, error) {
	s, err := d.With(c.Changes...)
	if err != nil {
		return Looked{Candidate: c, Judged: []check.Judged{}, Faulty: true, Reason: err.Error()}, nil, ctx.Err()
	}
	o.Brief = true
	if o.Common == nil {
		o.Common = commonOf(d.Setup(), c.Changes)
	}
	if o.Trees == nil {
		o.Trees = proof.NewTrees()
	}
	l := &looking{setup: s, options: o.Options, report: check.NewReport(s), judged: map[string]bool{}, witnesses: known}
	for i, stage := range stages {
		if err := stage(l, ctx); err != nil {
			return Looked{}, nil, err
		}
		if i == len(stages)-1 {
			break
		}
		found := l.found(c)
		if found.GivenUp = giveUp(i, &found); found.GivenUp != "" {
			return found, l.used, nil
		}
	}
	found := l.found(c)
	found.Verdict = l.report.Verdict
	return found, l.used, nil
}

// looking is a candidate while it is looked at.
type looking struct {
	setup   *machine.Setup
	options proof.Options
	report  *check.Report
	early   *check.Report   // what is known of travel before reach is looked at
	judged  map[string]bool // concerns that were looked at

	witnesses []*witness
	used      *witness // that something meets: one of witnesses, or a new one
}

// stages are what is looked at in one go, the cheapest first. Up to cheap they cost next to
// nothing.
var stages = []func(*looking, context.Context) error{
	(*looking).stack, (*looking).loads, (*looking).travel, (*looking).met, (*looking).swing, (*looking).reach, (*looking).driver,
}

func (l *looking) stack(ctx context.Context) error {
	l.judged[check.StackConcern] = true
	if err := stack.Check(ctx, l.setup, l.report, l.options); err != nil {
		return err
	}
	if l.cuts() {
		// How precisely a part stands where a tool is at it is known once reach is.
		l.report.Findings = slices.DeleteFunc(l.report.Findings, func(f check.Finding) bool { return f.Question == check.Located })
	}
	return nil
}

const cheap = 3

// cuts reports whether the setup says what is to be cut.
func (l *looking) cuts() bool { return len(l.setup.Operations) > 0 || len(l.setup.Faulty) > 0 }

func (l *looking) loads(ctx context.Context) error {
	l.judged[check.LoadConcern] = true
	return loads.Check(ctx, l.setup, l.report, l.options)
}

// travel finds whether the axes get to every feature, at the best of the positions that present
// it. Which one is taken is known once reach is.
func (l *looking) travel(ctx context.Context) error {
	if !l.cuts() {
		return nil
	}
	l.judged[check.TravelConcern] = true
	l.early = check.NewReport(l.setup)
	return reach.Travel(ctx, l.setup, l.early, l.options)
}

func (l *looking) swing(ctx context.Context) error {
	if l.used != nil {
		return nil
	}
	l.judged[check.SwingConcern] = true
	err := swing.Check(ctx, l.setup, l.report, l.options)
	l.used = l.witnessed()
	return err
}

func (l *looking) reach(ctx context.Context) error {
	if !l.cuts() {
		return nil
	}
	l.early = nil
	for _, c := range []string{check.ReachConcern, check.IndexConcern, check.ChangeConcern} {
		l.judged[c] = true
	}
	if err := reach.Check(ctx, l.setup, l.report, l.options); err != nil {
		return err
	}
	again := check.NewReport(l.setup)
	again.Reach = l.report.Reach
	if err := stack.Check(ctx, l.setup, again, l.options); err != nil {
		return err
	}
	l.report.Findings = append(slices.DeleteFunc(l.report.Findings, stacked), again.Findings...)
	for _, m := range again.Margins {
		l.report.Tighten(m)
	}
	l.report.Conclude()
	return nil
}

func stacked(f check.Finding) bool { return check.ConcernOf(f.Question) == check.StackConcern }

func (l *looking) driver(ctx context.Context) error {
	if err := driver.Check(ctx, l.setup, l.report, l.options); err != nil {
		return err
	}
	l.judged[check.DriverConcern] = l.report.Fastening != nil
	l.report.Conclude()
	return nil
}

// found sums up what is known until now.
func (l *looking) found(c Candidate) Looked {
	out := Looked{Candidate: c, Verdict: modelled(l.setup), Judged: []check.Judged{}}
	if out.Verdict != check.Clear {
		out.Reason = missing(l.setup)
	}
	early := map[string]check.Judged{}
	if l.early != nil {
		for _, j := range l.early.Judge() {
			early[j.Concern] = j
		}
	}
	for _, j := range l.report.Judge() {
		if !l.judged[j.Concern] {
			continue
		}
		if e, known := early[j.Concern]; known && j.Concern == check.TravelConcern {
			j = e
		}
		out.add(j)
	}
	return out
}

// add adds what is known of one more concern.
func (l *Looked) add(j check.Judged) {
	if j.Worst != nil {
		worst := *j.Worst // by itself, so that the report can go
		j.Worst = &worst
	}
	if j.Margin != nil {
		m := *j.Margin
		j.Margin = &m
		if l.Tightest == nil || m.Share < l.Tightest.Share {
			l.Tightest = &m
		}
	}
	if j.Verdict.Worse(l.Verdict) {
		l.Verdict, l.Reason = j.Verdict, ""
		if j.Worst != nil {
			l.Reason = j.Worst.Short()
		}
	}
	l.Judged = append(l.Judged, j)
}

// modelled is the best verdict that a setup can get: unproven where something is not modelled.
func modelled(s *machine.Setup) check.Verdict {
	if len(notModelled(s)) > 0 {
		return check.Unproven
	}
	return check.Clear
}

// notModelled lists what could be hit and is in no model.
func notModelled(s *machine.Setup) []string {
	list := []string{}
	for _, p := range s.Presence {
		if p.State == machine.NotModelled {
			list = append(list, p.What)
		}
	}
	return list
}

// missing words it.
func missing(s *machine.Setup) string {
	list := notModelled(s)
	if len(list) == 1 {
		return fmt.Sprintf("not modelled: %s", list[0])
	}
	return fmt.Sprintf("not modelled: %s", strings.Join(list, ", "))
}
