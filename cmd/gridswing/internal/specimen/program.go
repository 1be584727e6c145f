package specimen

import "gridswing/machine/check"

// Program returns a report on a posted program that was read to its end: a holder meets a jaw in
// rapid, a cutter goes below the finished surface, a shank comes near, and the work offset is
// half a pitch off; four tools, one of which is called twice.
func Program() *check.Report {
	r := &check.Report{
		Format: check.Format, Setup: "Bracket NB-214, op 10", Machine: "Mill 3", File: "setups/bracket-op10.toml",
		Checks:   []string{check.SwingCheck, check.PostedCheck},
		Findings: []check.Finding{inRapid(), gouged(), nearShank(), offset()},
		Closest:  []check.Finding{},
		Pairs: []check.Pair{
			{Question: check.Posted, Bodies: [2]string{"T4 holder", "vise/moving jaw"}, Verdict: check.Contact, Demand: 2},
			{Question: check.Posted, Bodies: [2]string{"T7 shank", "stock"}, Verdict: check.Tight, Demand: 2, Proven: mm(0.8)},
			{Question: check.Posted, Bodies: [2]string{"T1 holder", "vise/moving jaw"}, Verdict: check.Clear, Demand: 2, Proven: mm(10)},
		},
		Axes: []check.Axis{}, SpindleSide: []string{"machine/head"}, Placed: []check.Placed{},
		Presence: []check.Presence{{What: "head", State: "modelled", Bodies: []string{"machine/head"}},
			{What: "stock", State: "modelled", Bodies: []string{"stock"}}},
		Assumed: []string{}, LeftToMaker: []string{}, Stated: []string{}, Warnings: []string{}, Caution: check.Caution,
		Program: program(),
	}
	r.Conclude()
	return r
}

// BrokenProgram returns a report on a program that could not be read to its end, of which what was
// read is clear, and of which some times are not known.
func BrokenProgram() *check.Report {
	r := Program()
	r.Findings = nil
	r.Pairs = r.Pairs[2:]
	r.Findings = []check.Finding{{Verdict: check.Unproven, Question: check.Posted, Line: 1204, Block: "N1204 G68.2 X0 Y0 Z0",
		Reason: "found G68.2, expected a code of ISO 6983-1 or one that [program.codes] of the machine file explains; nothing after it is checked"}}
	p := r.Program
	p.Fault = &check.ProgramFault{File: "programs/bracket-op10.nc", Line: 1204, Column: 7, Found: "G68.2",
		Expected: "a code of ISO 6983-1 or one that [program.codes] of the machine file explains", Block: "N1204 G68.2 X0 Y0 Z0"}
	p.Known, p.Seconds, p.Tools, p.Offsets, p.Lengths, p.Stock = false, 361, p.Tools[:1], p.Offsets[1:2], p.Lengths[:1], []check.ProgramStock{}
	p.Strip = p.Strip[:80]
	p.Tools[0].Removed = nil
	p.Assumed = []string{"the stock is left out, as it was asked for: nothing of it is proven"}
	r.Conclude()
	return r
}

func program() *check.Program {
	return &check.Program{
		File: "programs/bracket-op10.nc", Format: check.WordAddress, Blocks: 4812, Moves: 9733, Seconds: 2892, Known: true,
		Assumed: []string{
			"G55 is not keyed in by the setup file ([[keyed.offset]]): taken as computed for the setup",
			"blocks that begin with / are left out, as the machine file says",
		},
		Tools: []check.ProgramTool{
			{Tool: 1, Name: "face mill 50", First: 12, Last: 410, FeedSeconds: 310, Seconds: 382, Travel: used(-180, 220, -55, 96, -301, -120, 0, 90),
				Removed: mm(61250), FeedLength: 9120, AirLength: 2310, LPR: 98, Shortest: mm(91.5), Longest: mm(104),
				ShortWhy: "T1 holder and stock on line 233", LongWhy: check.GoesTogether},
			{Tool: 4, Name: "drill 8.5", First: 415, Last: 3920, FeedSeconds: 244.5, Seconds: 600, Travel: used(-90, 110, -40, 40, -340, -120, 90, 90),
				Removed: mm(8800.5), FeedLength: 1800, AirLength: 120, LPR: 143, ShortWhy: check.NotClearAsItIs, LongWhy: check.NotClearAsItIs},
			{Tool: 7, Name: "ball end mill 8, long neck", First: 1204, Last: 3700, FeedSeconds: 1500, Seconds: 1604, Travel: used(-60, 64.25, -30, 41, -322, -120, -20, 110),
				Removed: mm(2210), FeedLength: 30250, AirLength: 310, LPR: 120, Shortest: mm(120.25), Longest: mm(131), ShortWhy: "T7 shank and stock on line 2950",
				LongWhy: "Z on line 3001"},
			{Tool: 12, Name: "chamfer mill 10", First: 3930, Last: 4805, FeedSeconds: 280, Seconds: 306, Travel: used(-80, 80, -40, 40, -300, -120, 0, 90),
				Removed: mm(0), FeedLength: 2210.5, AirLength: 2210.5, LPR: 110},
		},
		Offsets: []check.ProgramOffset{
			{Number: "G54", Line: 9, Source: "keyed in", Used: at(12.5, 33.25, -301), Computed: at(-12.5, 33.25, -301), Verdict: check.Unproven, Words: offsetWords},
			{Number: "G55", Line: 1207, Source: "computed", Used: at(12.5, -104.0005, -288.75), Computed: at(12.5, -104.0005, -288.75), Verdict: check.Clear},
			{Number: "G59", Line: 3931, Source: "program", Used: at(0, 0, -250), Computed: []check.Position{}, Verdict: check.Unproven,
				Words: "nothing is computed to compare it with: part bracket: no offset: the linear axes do not span space"},
		},
		Lengths: []check.ProgramLength{
			{Unit: "mm", Tool: 1, H: 1, Line: 14, Source: "keyed in", Used: 98.012, Computed: mm(98), Verdict: check.Clear, Words: "differs by +0.012 mm, no more than the tool can be off"},
			{Unit: "mm", Tool: 4, H: 4, Line: 417, Source: "computed", Used: 143, Computed: mm(143), Verdict: check.Clear},
			{Unit: "mm", Tool: 7, H: 4, Line: 1210, Source: "computed", Used: 143, Computed: mm(120), Verdict: check.Unproven, Words: "differs by +23.000 mm: it is the length of T4"},
			{Unit: "mm", Tool: 12, H: 0, Line: 3933, Source: "program", Used: 0, Computed: mm(110), Verdict: check.Unproven, Words: "feeds without a length offset"},
		},
		Strip: strip(), Cap: 10, Demand: 2,
		Stock: []check.ProgramStock{{Part: "bracket", Cell: 0.5, Before: 240000, Remaining: 167740.25, Left: mm(812)}},
	}
}

const offsetWords = "X differs by +25.000 mm: as much as half the pitch of the holes of plate, top"

// used is what a tool uses of X, Y, Z and A.
func used(v ...float64) (list []check.Range) {
	for i, axis := range []string{"X", "Y", "Z", "A"} {
		unit := "mm"
		if axis == "A" {
			unit = "deg"
		}
		list = append(list, check.Range{Axis: axis, From: v[2*i], To: v[2*i+1], Unit: unit})
	}
	return list
}

// strip is 482 cells of 6 s: the contact at line 1190, what is tight at 2950, what is cut too deep
// at 3311.
func strip() (list []check.StripCell) {
	const n = 482
	for i := range n {
		c := check.StripCell{From: 6 * float64(i), To: 6 * float64(i+1), Line: 10 + 10*i, Verdict: check.Clear, Tool: 12}
		switch {
		case i < 63:
			c.Tool = 1
		case i < 120, i > 370 && i < 391:
			c.Tool = 4
		case i <= 370:
			c.Tool = 7
		}
		near := 3.5 + 6*float64((i*i/40)%17)/16
		c.Proven, c.Smallest = mm(near), mm(near+0.2)
		switch i {
		case 118:
			c.Verdict, c.Proven, c.Smallest = check.Contact, nil, nil
		case 294, 295:
			c.Verdict, c.Proven, c.Smallest = check.Tight, mm(0.8), mm(1.1)
		case 330:
			c.Verdict, c.Proven, c.Smallest = check.Contact, nil, nil
		}
		if c.Proven != nil && *c.Proven > 9 {
			c.Proven, c.Smallest = nil, nil
		}
		list = append(list, c)
	}
	return list
}

func inRapid() check.Finding {
	return check.Finding{Verdict: check.Contact, Question: check.Posted, Bodies: [2]string{"T4 holder", "vise/moving jaw"}, Demand: 2,
		At: at(60, 45.5, -290, deg(90, 0)...), Points: &[2][3]float64{{30, 10, 420}, {30, 10, 420}}, PartPoint: &[3]float64{12.5, -4, -31},
		Over: []check.Range{}, Reason: "on 3 lines, 1190 to 1196", Tool: number(4), Line: 1190, Block: "N1190 G0 X60. Y45.5 (next hole)", Depth: mm(3.25), Seconds: mm(709)}
}

func gouged() check.Finding {
	return check.Finding{Verdict: check.Contact, Question: check.Gouging, Bodies: [2]string{"T7 cutting part", "stock"},
		At: at(20, 11.5, -300, deg(45, 30)...), Points: &[2][3]float64{{20, 11, 340}, {20, 11, 340}}, PartPoint: &[3]float64{2.5, 11, -40},
		Over: []check.Range{}, Tool: number(7), Line: 3311, Reason: "more than 0.05 mm below the finished surface", Block: "G1 X20. Y11.5 Z-40.8", Depth: mm(0.31), Seconds: mm(1981)}
}

func nearShank() check.Finding {
	return check.Finding{Verdict: check.Tight, Question: check.Posted, Bodies: [2]string{"T7 shank", "stock"}, Demand: 2, Proven: mm(0.8), Smallest: mm(1.1),
		Nominal: mm(1.3), Uncertainty: 0.2, At: at(22, 9.5, -312, deg(40, 28)...), Points: &[2][3]float64{{22, 9, 330}, {23.1, 9, 330}},
		Over: []check.Range{}, Tool: number(7), Line: 12, ProgramFile: "programs/o0007.nc", Block: "G1 X1.2 Z-2.", Seconds: mm(1766)}
}

func offset() check.Finding {
	return check.Finding{Verdict: check.Unproven, Question: check.Keyed, Line: 9, Reason: "G54: " + offsetWords, Over: []check.Range{}}
}
