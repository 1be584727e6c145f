package tooling

import "slices"

// Kinds of Cutter. Each turns about the tool's axis.
const (
	EndMill     = "end mill"      // flat, or with rounded corners
	BallEndMill = "ball end mill" // RE is half of DC
	FaceMill    = "face mill"     // on an arbor, or with a shank if DMM is given
	Drill       = "drill"
	SpotDrill   = "spot drill"
	ChamferMill = "chamfer mill"
	Reamer      = "reamer"
	Tap         = "tap"
	BoringBar   = "boring bar"  // DC is what it bores, RE the insert's corner
	TouchProbe  = "touch probe" // DC is its ball, DN its stem, LU from the ball to the stem's end
)

// Kinds lists the kinds of cutter there are.
func Kinds() []string {
	return []string{EndMill, BallEndMill, FaceMill, Drill, SpotDrill, ChamferMill, Reamer, Tap, BoringBar, TouchProbe}
}

// Need is a symbol that a cutter cannot do without, and why.
type Need struct {
	Symbol string
	Why    string
}

var (
	needDC   = Need{"DC", "how wide it cuts"}
	needSIG  = Need{"SIG", "the shape of its point, with DCN if that is cut off; 180 degrees if it is flat"}
	needAPMX = Need{"APMX", "how much of it cuts, and so may meet the stock"}
	needDMM  = Need{"DMM", "how wide it is up to the holder"}
	needOAL  = Need{"OAL", "how much of it is left to be clamped"}

	// needs says what each kind requires. RE, LU and DN have safe
	// meanings where they are left out: a sharp corner, no neck, a neck as wide as DC.
	needs = map[string][]Need{
		EndMill:     {needDC, needAPMX, needDMM, needOAL},
		BallEndMill: {needDC, needAPMX, needDMM, needOAL},
		FaceMill:    {needDC, needAPMX, {"OAL", "its height, from the holder's face to the foremost point"}},
		Drill:       {needDC, needSIG, needAPMX, needDMM, needOAL},
		SpotDrill:   {needDC, needSIG, needAPMX, needDMM, needOAL},
		ChamferMill: {needDC, needSIG, needAPMX, needDMM, needOAL},
		Reamer:      {needDC, needAPMX, needDMM, needOAL},
		Tap:         {needDC, needAPMX, needDMM, needOAL},
		BoringBar:   {needDC, needAPMX, needDMM, needOAL},
		TouchProbe: {{"DC", "the diameter of its ball"}, {"DN", "the diameter of its stem"},
			{"LU", "how far the stem goes"}, {"OAL", "its length, from the ball to its upper end"}},
	}
)

// Needs lists the symbols that a kind of cutter requires; nil for a word that is
// no kind.
func Needs(kind string) []Need { return slices.Clone(needs[kind]) }

// hasPoint reports whether SIG is looked at. It is not at kinds that end flat or
// round, and not at taps and reamers, whose lead begins at a flat that nobody states:
// a flat end of DC holds any of these.
func hasPoint(kind string) bool {
	switch kind {
	case Drill, SpotDrill, ChamferMill:
		return true
	}
	return false
}

// hasDCX reports whether DCX may be stated: of mills whose inserts stand at an angle.
// Elsewhere DC is the largest, or what a point ends in.
func hasDCX(kind string) bool { return kind == EndMill || kind == FaceMill }

// hasCorner reports whether RE is looked at; elsewhere corners are sharp, which
// holds any rounded one.
func hasCorner(kind string) bool {
	switch kind {
	case EndMill, BallEndMill, FaceMill, BoringBar:
		return true
	}
	return false
}
