package changeover

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
)

// Make plans how to get from one setup to another, from nil: from the empty machine. An
// error says that the two are not of one machine, that an order is impossible, or
// that the context has ended.
func Make(ctx context.Context, from, to *machine.Setup, o Options) (*Plan, error) {
	if from != nil && !sameFile(from.MachineFile, to.MachineFile) {
		return nil, fmt.Errorf("%s: machine: found %s, expected %s, that of %s: a changeover is on one machine",
			to.File, to.MachineFile, from.MachineFile, from.File)
	}
	// It is made before anything is probed.
	if to = to.Drawn(); from != nil {
		from = from.Drawn()
	}
	off, on, err := orders(from, to, staying(from, to))
	if err != nil {
		return nil, err
	}
	p := newPlanner(from, to, o)
	p.plan.Off, p.plan.On = append(p.plan.Off, off...), append(p.plan.On, on...)
	p.ready()
	for _, unit := range off {
		p.takeOff(unit)
	}
	p.pass()
	for _, unit := range on {
		p.putOn(unit)
	}
	p.closeUp()
	if err := p.prove(ctx); err != nil {
		return nil, err
	}
	p.finish()
	return p.plan, nil
}

// newPlanner returns a planner with a plan that has no steps yet.
func newPlanner(from, to *machine.Setup, o Options) *planner {
	p := &planner{from: from, to: to, options: o.Ready(DefaultTests), stays: staying(from, to)}
	p.plan = &Plan{
		Format: Format, To: Named{to.Name, to.File}, Machine: to.Machine,
		Off: []string{}, Stays: []Stay{}, On: []string{}, NoMinutes: []string{}, NotModelled: []string{},
		Assumed: []string{}, Stated: []string{}, Caution: check.Caution,
	}
	if from != nil {
		p.plan.From = &Named{from.Name, from.File}
	}
	for _, unit := range loaded(to) {
		if old, stay := p.stays[unit]; stay {
			p.plan.Stays = append(p.plan.Stays, Stay{From: old, To: unit})
		}
	}
	p.begin(from)
	return p
}

// planner holds one plan while it is made.
type planner struct {
	from, to *machine.Setup // from may be nil
	options  Options
	stays    map[string]string // From's names by To's
	plan     *Plan
	state    state
	ways     []way
}

// way is the questions of a step.
type way struct {
	step      int
	questions []*question
	backwards bool
	legs      int
	pins      check.Verdict // whether its own pins get over the face
	reason    string
	assumed   bool // a length that is not stated was taken for one
}

// step adds a step and returns it, numbered.
func (p *planner) step(kind, unit string, s *machine.Setup) *Step {
	st := Step{
		Number: len(p.plan.Steps) + 1, Kind: kind, Unit: unit, Setup: s.Name,
		At: []check.Position{}, Do: []string{}, Caution: []string{}, Pins: []PinChange{}, Screws: []Screws{}, Settings: []SettingChange{},
		scene: &scene{setup: s, params: s.Loading.At, moved: map[int]geom.Pose{}, opened: map[int]bool{}},
	}
	for i := range s.Settings {
		if at, stated := s.Loading.Set[s.Settings[i].Axis]; stated && s.Settings[i].Unit == machineUnit {
			st.scene.set(&s.Settings[i], at)
		}
	}
	for k := range s.Axes {
		a := &s.Axes[k]
		if a.Unit == "" || a.Unit == unit || slices.Contains(p.state.standing, a.Unit) {
			st.At = append(st.At, check.PositionOf(a, s.Loading.At[k]))
		}
	}
	slices.SortStableFunc(st.At, func(a, b check.Position) int { return check.ByLetter(a.Axis, b.Axis) })
	if unit != "" && unit != machineUnit {
		st.Component = handling(s, unit).Component
	}
	p.plan.Steps = append(p.plan.Steps, st)
	return &p.plan.Steps[len(p.plan.Steps)-1]
}

// ready brings the axes to where the first setup is loaded.
func (p *planner) ready() {
	s := p.from
	if s == nil {
		s = p.to
	}
	st := p.step(Ready, "", s)
	p.bring(st)
	st.Standing = append([]string{}, p.state.standing...)
}

// bring says where the axes go.
func (p *planner) bring(st *Step) {
	st.say("Move the axes to %s.", positions(st.At))
	st.say("Stop the spindle and the coolant, and lock the machine against starting.")
	p.change(st, nil, p.state.forLoading(st.scene.setup))
}

// pass goes from the first setup to the second: names are To's from here on, axes go where
// it is loaded, pins and setting axes of what stays are as it has them.
func (p *planner) pass() {
	if p.from == nil {
		return
	}
	before := p.plan.Steps[0].At
	p.state.rename(p.stays)
	probe := Step{}
	for k := range p.to.Axes {
		a := &p.to.Axes[k]
		if a.Unit == "" || slices.Contains(p.state.standing, a.Unit) {
			probe.At = append(probe.At, check.PositionOf(a, p.to.Loading.At[k]))
		}
	}
	elsewhere := slices.ContainsFunc(probe.At, func(at check.Position) bool { return !slices.Contains(before, at) })
	if elsewhere || len(p.state.forLoading(p.to)) > 0 {
		st := p.step(Ready, "", p.to)
		p.bring(st)
		st.Standing = append([]string{}, p.state.standing...)
	}
	for _, unit := range append([]string{machineUnit}, loaded(p.to)...) {
		if _, stay := p.stays[unit]; stay {
			p.adjust(unit)
		}
	}
}

// closeUp sets what was only set so for loading as the setup has it: a door.
func (p *planner) closeUp() {
	settings := p.state.settingsTo(p.to, machineUnit, p.stays, nil)
	if len(settings) == 0 {
		return
	}
	st := p.step(Adjust, machineUnit, p.to)
	p.change(st, nil, settings)
	st.Standing = append([]string{}, p.state.standing...)
}

// adjust sets pins and setting axes of what stays. Axes of jaws that are to grip
// something are left to when it is put in.
func (p *planner) adjust(unit string) {
	pins := p.state.pinsTo(p.to, unit, p.stays)
	settings := p.state.settingsTo(p.to, unit, p.stays, p.to.Loading.Set)
	if len(pins) == 0 && len(settings) == 0 {
		return
	}
	st := p.step(Adjust, unit, p.to)
	p.change(st, pins, settings)
	st.Standing = append([]string{}, p.state.standing...)
}

// change notes and words changes of pins and settings.
func (p *planner) change(st *Step, pins []PinChange, settings []SettingChange) {
	st.Pins, st.Settings = append(st.Pins, pins...), append(st.Settings, settings...)
	p.state.apply(pins, settings)
	for _, words := range pinWords(pins) {
		st.say("%s", words)
	}
	for i := range settings {
		st.say("%s", settingWords(&settings[i]))
	}
}

// takeOff plans how a component comes off.
func (p *planner) takeOff(unit string) {
	s := p.from
	p.state.standing = slices.DeleteFunc(p.state.standing, func(u string) bool { return u == unit })
	st := p.step(TakeOff, unit, s)
	c := st.scene
	c.seat, c.frame = seatOf(s, unit), handling(s, unit).Frame
	in := p.lead(st, true)
	p.warn(st)
	if axes := rotaryOf(s, unit); axes != "" {
		st.say("Lock %s.", axes)
		st.say("Depressurise its lines, then disconnect them.")
	}
	p.grip(st)
	slides := c.slides(in)
	p.weigh(st)
	p.loosen(st)
	p.locators(st, slides, false, true)
	p.move(st, in, true, slides)
	p.locators(st, slides, false, false)
	p.state.drop(unit)
	for _, on := range loaded(p.to) {
		if _, stay := p.stays[on]; !stay && sameFile(handling(p.to, on).Component, st.Component) {
			st.say("Keep it by: it goes on again as %s.", on)
			break
		}
	}
	st.Standing = append([]string{}, p.state.standing...)
}

// putOn plans how a component goes on.
func (p *planner) putOn(unit string) {
	s := p.to
	st := p.step(PutOn, unit, s)
	c := st.scene
	c.seat, c.frame = seatOf(s, unit), handling(s, unit).Frame
	in := p.lead(st, false)
	p.warn(st)
	axes := rotaryOf(s, unit)
	if axes != "" {
		st.say("Lock %s before it hangs.", axes)
	}
	p.grip(st)
	slides := c.slides(in)
	st.say("Wipe its seat and what it stands on clean.")
	p.locators(st, slides, true, true)
	p.weigh(st)
	p.move(st, in, false, slides)
	p.locators(st, slides, true, false)
	p.close(st)
	p.tighten(st)
	p.state.standing = append(p.state.standing, unit)
	p.change(st, p.state.ownPins(s, unit), p.state.ownSettings(s, unit))
	if axes != "" {
		st.say("Connect its lines. Release the locks last.")
	}
	st.Standing = append([]string{}, p.state.standing...)
}

// lead finds the way of a step and lists what is asked of it. It opens jaws first.
func (p *planner) lead(st *Step, backwards bool) (in []machine.Waypoint) {
	c := st.scene
	p.openJaws(st)
	in, st.Way = c.wayIn(st.Unit, p.state.standing)
	c.way = slices.Clone(in)
	if backwards {
		slices.Reverse(c.way)
	}
	for _, at := range c.way {
		st.Way.Points = append(st.Way.Points, c.point(at))
	}
	w := way{step: st.Number - 1, backwards: backwards, legs: len(in) - 1}
	p.options.Trees.Plant(p.options.Jobs, c.setup.Bodies)
	w.questions = append(c.questions(st.Unit, in, p.state.standing, p.options.Trees), c.openings(st.Unit, p.state.standing, p.options.Trees)...)
	w.pins, w.reason, w.assumed = c.pinsPass(in)
	p.ways = append(p.ways, w)
	if m := handling(c.setup, st.Unit).Minutes; m != nil {
		st.Minutes = m
	}
	return in
}

// prove finds the verdicts of all ways.
func (p *planner) prove(ctx context.Context) error {
	var all []*question
	for i := range p.ways {
		all = append(all, p.ways[i].questions...)
	}
	err := p.options.Each(ctx, "ways", len(all), func(ctx context.Context, i int) error {
		return all[i].answer(ctx, p.options.Trees, p.options.Tests)
	})
	if err != nil {
		return err
	}
	for i := range p.ways {
		p.judge(&p.ways[i])
	}
	return nil
}

// judge writes what was found of a way.
func (p *planner) judge(w *way) {
	st := &p.plan.Steps[w.step]
	st.Way.Meetings = append([]Meeting{}, meetings(w.questions, w.backwards, w.legs)...)
	st.Way.Verdict, st.Way.Demand = check.Clear, math.Inf(1)
	pairs := map[[2]int]bool{}
	for _, q := range w.questions {
		pairs[[2]int{q.a, q.b}] = true
		if !q.seated {
			st.Way.Demand = min(st.Way.Demand, q.Demand)
		}
		for _, words := range q.Stated {
			if !slices.Contains(p.plan.Stated, words) {
				p.plan.Stated = append(p.plan.Stated, words)
			}
		}
	}
	if st.Way.Pairs = len(pairs); math.IsInf(st.Way.Demand, 1) {
		st.Way.Demand = st.scene.setup.Demand.Loading
	}
	if len(pairs) == 0 {
		st.Way.Verdict = check.Unproven
	}
	if w.pins != check.Clear {
		m := Meeting{Verdict: w.pins, Bodies: [2]string{st.Unit, st.scene.seat.On}, Demand: st.Way.Demand, Reason: w.reason}
		m.at = st.Begin()
		at := len(st.Way.Meetings)
		if w.pins == check.Contact {
			at = 0
		}
		st.Way.Meetings = slices.Insert(st.Way.Meetings, at, m)
	}
	for _, m := range st.Way.Meetings {
		if m.Verdict.Worse(st.Way.Verdict) {
			st.Way.Verdict = m.Verdict
		}
	}
}

// rotaryOf names the rotary axes that a unit brings, with where they stand; "" if it has
// none. The one that carries another one is its tilt.
func rotaryOf(s *machine.Setup, unit string) string {
	var list []string
	for k := range s.Axes {
		if a := &s.Axes[k]; a.Unit == unit && a.Kind == motion.Rotary {
			list = append(list, fmt.Sprintf("(%s at %s)", a.Letter, degrees(s.Loading.At[k])))
		}
	}
	switch len(list) {
	case 0:
		return ""
	case 1:
		return "its axis " + list[0]
	}
	return "its tilt " + list[0] + " and its rotary " + list[1]
}
