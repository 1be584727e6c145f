package specimen

import "gridswing/machine/check"

// Stack returns a plate on a table that goes together, a vise with a screw that bottoms
// and one that holds by too little, a block in its jaws and a counterweight on stops; with
// locations of one part at two positions, one of them farther off than it may be, and two
// searches of a probe.
func Stack() *check.Stack {
	return &check.Stack{
		Seats: []check.Seat{plateSeat(), viseSeat(), blockSeat(), stoppedSeat()},
		Locations: []check.Location{
			location(check.PartZero, check.FromSeat, 0.041, 0.02, check.Clear),
			location(check.FarthestCorner, check.FromSeat, 0.0625, 0.031, check.Clear),
			location(check.PartZero, check.FromTool, 0.0561, 0.024, check.Clear, deg(90, 180)...),
			location(check.FarthestCorner, check.FromTool, 0.1125, 0.0605, check.WithinPlay, deg(90, 180)...),
		},
		Searches: []check.Search{
			{Operation: "find the block", Feature: "side", Before: 8, Beyond: 3, Off: 0.1125, Verdict: check.Clear},
			{Operation: "find the block", Feature: "top", Before: 8, Beyond: 0.1, Off: 0.1125, Verdict: check.WithinPlay},
		},
	}
}

func plateSeat() check.Seat {
	pin := check.Locator{Pin: "16 g6", Bores: []string{"16 H7"}, Least: mm(0.006), Most: mm(0.035)}
	first, second := pin, pin
	first.Hole, second.Hole, second.Relieved = "B3", "H3", true
	screw := check.Fastener{Verdict: check.Clear, Thread: "M12", From: "above", Length: mm(35), Engaged: mm(18), Needed: mm(15)}
	one, two := screw, screw
	one.Name, one.Hole, two.Name, two.Hole = "1", "top B1", "2", "top H1"
	return check.Seat{
		Unit: "plate", On: "machine", Grid: "top", Verdict: check.Clear, LocatedBy: "own pins",
		Locators: []check.Locator{first, second}, Distance: mm(300), Spare: mm(0.0142),
		Play:      &check.Play{Along: 0.02, Across: [2]float64{0.02, 0.02}, Angle: 0.00764},
		Fasteners: []check.Fastener{one, two}, Wanted: 2,
		Overhang: []check.Beyond{{Side: "X+", By: 12.5}, {Side: "Y-", By: 40}}, Notes: []string{},
	}
}

func viseSeat() check.Seat {
	return check.Seat{
		Unit: "vise", On: "plate", Grid: "top", Verdict: check.Contact, LocatedBy: "set pins",
		Locators: []check.Locator{{Hole: "A3", Most: mm(0.07)}, {Hole: "C3", Most: mm(0.07)}}, Distance: mm(100),
		Play: &check.Play{Along: 0.0375, Across: [2]float64{0.0375, 0.0375}, Angle: 0.043},
		Fasteners: []check.Fastener{
			{Name: "front", Verdict: check.Contact, Thread: "M12", Hole: "top B2", From: "above", Length: mm(50), Engaged: mm(16),
				Needed: mm(12), Reason: "it bottoms: it goes in by 35 mm, the thread of the hole ends at 30"},
			{Name: "back", Verdict: check.Tight, Thread: "M12", Hole: "top B4", From: "below", Length: mm(40), Engaged: mm(11),
				Needed: mm(12), Reason: "11 mm of thread hold, expected 12 in steel for class 8.8"},
		},
		Wanted: 2, Overhang: []check.Beyond{}, Notes: []string{},
	}
}

func blockSeat() check.Seat {
	return check.Seat{
		Unit: "block", On: "vise", Verdict: check.Clear, LocatedBy: "by hand", Locators: []check.Locator{},
		Fasteners: []check.Fastener{}, Overhang: []check.Beyond{}, Notes: []string{},
		Grip: &check.Grip{Bite: 0.05, Depth: mm(20), Held: mm(20), Jaws: []string{"vise/fixed jaw", "vise/moving jaw"}, Parallels: "vise/parallels"},
	}
}

func stoppedSeat() check.Seat {
	return check.Seat{
		Unit: "counterweight", On: "trunnion", Verdict: check.Clear, LocatedBy: "stops",
		Locators: []check.Locator{{}, {}, {}}, Distance: mm(60), Play: &check.Play{Along: 0.02, Across: [2]float64{0.02, 0.02}, Angle: 0.0382},
		Fasteners: []check.Fastener{}, Overhang: []check.Beyond{}, Notes: []string{"no parallels are stated under it"},
	}
}

func location(point, to string, off, likely float64, v check.Verdict, at ...check.Position) check.Location {
	if at == nil {
		at = []check.Position{}
	}
	return check.Location{Part: "bracket", Point: point, To: to, At: at, Off: off, Along: [3]float64{off / 2, off / 2, off / 2},
		Angle: 0.0507, Likely: likely, Wanted: mm(0.1), Verdict: v}
}
