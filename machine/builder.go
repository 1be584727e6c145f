package machine

import (
	"fmt"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
)

// ToolUnit is the unit of tools in the spindle.
const ToolUnit = "tool"

// Units that no place can be called, with ToolUnit.
const (
	machineUnit = "machine"
	bed         = "bed" // where something can stand, though it is no unit
)

// builder puts a setup together from what its files say. Faults of the setup
// go to src.
type builder struct {
	src     *source
	file    setupFile
	unit    scale
	machine *machineModel
	setup   *Setup
	base    *placed              // the machine in its place
	sets    map[string]*assembly // component by name of the place
	tables  map[string]*placeTable
	done    map[string]*placed
	waiting []string // places being worked on, each standing on the next

	libraries []*library          // of the tool files, in the order of the setup file
	tools     map[int]*listedTool // by number
	lists     map[string]*list    // by the path of the table that names it
	finished  *assembly           // the finished parts that the setup file names

	components map[string]*assembly // by path, as resolved; nil for a file that cannot be read
	binder     *Binder              // nil if the setup says nothing for its pages
}

// build places everything. It assumes files without faults of their own.
func (b *builder) build() {
	s := b.setup
	s.Name, s.Machine, s.Up, s.TableLoad = b.file.Name, b.machine.name, b.machine.up, b.machine.tableLoad
	s.Binder, s.Unit = b.binder, geom.Unit(b.unit)
	b.base = &placed{assembly: &b.machine.assembly, unit: machineUnit, base: bedFrame()}
	b.base.set = b.settings(b.base, b.file.Set, "set", "")
	b.addAxes(b.base, "machine")
	b.addBodies(b.base)
	b.addLibraries()
	b.addTool()
	if !b.indexPlaces() {
		return // one of the two is meant to be something else that others stand on
	}
	for i := range b.file.Places {
		b.place(b.file.Places[i].Name)
	}
	if b.src.any() {
		return
	}
	for i := range b.file.Places {
		b.addBodies(b.done[b.file.Places[i].Name])
	}
	b.addPins()
	for i := range b.file.Places {
		b.mate(&b.file.Places[i])
	}
	b.addRatings()
	b.addCounterweight()
	b.command()
	b.index()
	s.Demand = b.demand()
	b.addJob()
	s.Presence = presence(s.modelling(),
		declarer{b.machine.src, b.machine.declaredAbsent}, declarer{b.src, b.src.absent(b.file.DeclaredAbsent)})
	b.describe()
}

// addJob adds what is to be cut, with which tools, and what the machine does
// between cuts.
func (b *builder) addJob() {
	s := b.setup
	s.Rapid, s.Magazine = b.machine.rapid, b.machine.magazine
	b.addSpindle()
	b.addChange()
	b.addOffsets()
	b.addControl()
	b.addKeyed()
	b.addDrivers()
	b.addLoading()
	b.addSeats()
	b.addPatterns()
	b.addHandling()
	b.addMayBeCut()
	b.addParts()
	b.addMeasured()
	b.addFound()
	b.addOperations()
}

// indexPlaces checks the names of the places; false if two have the same.
func (b *builder) indexPlaces() (distinct bool) {
	distinct = true
	b.tables = make(map[string]*placeTable)
	b.done = make(map[string]*placed)
	taken := []string{machineUnit, ToolUnit, bed}
	for _, p := range b.machine.parts {
		taken = append(taken, p.name)
	}
	for _, g := range b.machine.grids {
		taken = append(taken, g.name)
	}
	for i := range b.file.Places {
		t := &b.file.Places[i]
		switch {
		case b.tables[t.Name] != nil:
			b.src.fault(t.Path+".name", quoted(t.Name)+" a second time", "each place under its own name")
			distinct = false
			continue
		case slices.Contains(taken, t.Name):
			b.src.fault(t.Path+".name", quoted(t.Name), "a name that nothing of the machine has")
		}
		b.src.checkName(t.Path, t.Name)
		b.tables[t.Name] = t
	}
	return distinct
}

// addAxes gives each programmed axis of an assembly its parameter.
func (b *builder) addAxes(p *placed, key string) {
	p.params = make([]int, len(p.axes))
	for i, a := range p.axes {
		if a.setting {
			continue
		}
		if len(b.setup.Axes) == motion.MaxParams {
			b.src.fault(key, fmt.Sprintf("axis %s, one more than %d", a.id, motion.MaxParams),
				"at most %d programmed axes in all", motion.MaxParams)
			p.params[i] = motion.MaxParams - 1 // the setup is refused anyway
			continue
		}
		p.params[i] = len(b.setup.Axes)
		b.setup.Axes = append(b.setup.Axes, b.axis(p, i))
		b.checkLetter(p, a, key)
	}
}

// axis returns a placed axis as the setup lists it. The axes that carry it
// must have their parameters, or the joint that does not matter here has any.
func (b *builder) axis(p *placed, i int) Axis {
	a := p.axes[i]
	f := p.axisFrame(a.carriedBy, false)
	x := Axis{
		Letter: p.letter(i, f), Kind: a.kind, OnTool: p.onTool(i, f), Unlimited: a.unlimited,
		Travel: a.travel, Commanded: a.travel, Home: a.home, Accuracy: a.accuracy,
		Centre: f.home.Point(a.centre), RollOver: a.rollOver, Free: a.free, Rates: a.rates,
	}
	x.Direction, x.Reversed = p.iso(i, f)
	if a.unlimited {
		x.Commanded = span{0, radians(360)}
	}
	if p.unit != machineUnit {
		x.Unit = p.unit
	}
	return x
}

// letter returns the letter of an axis where it stands: ISO 841 calls a rotary
// axis A, B or C by the line it is parallel to, so a unit's axis is renamed if
// the unit is seated so that it is parallel to another one. A machine's axes
// keep the letters that its control gives them.
func (p *placed) letter(i int, f frame) string {
	a := p.axes[i]
	if p.unit == machineUnit || a.kind == motion.Linear {
		return a.id
	}
	if k, sign := parallel(f.home.Dir(a.direction)); sign != 0 && a.id[:1] != "ABC"[k:k+1] {
		return "ABC"[k : k+1]
	}
	return a.id
}

// checkLetter refuses a letter that another axis has already.
func (b *builder) checkLetter(p *placed, a *axis, key string) {
	last := b.setup.Axes[len(b.setup.Axes)-1]
	for _, x := range b.setup.Axes[:len(b.setup.Axes)-1] {
		if x.Letter == last.Letter {
			b.src.fault(key, fmt.Sprintf("axis %s a second time: %s and %s", last.Letter, owner(x.Unit), p.calls(a, last.Letter)),
				"each letter once")
		}
	}
}

func owner(unit string) string {
	if unit == "" {
		return "the machine's"
	}
	return unit + "'s"
}

// calls words an axis with the letter of its own file, if that is another one.
func (p *placed) calls(a *axis, letter string) string {
	if a.id == letter {
		return owner(p.unit)
	}
	return fmt.Sprintf("%s %s, which is %s as seated", owner(p.unit), a.id, letter)
}
