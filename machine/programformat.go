package machine

// The tables of a machine and of a setup file that posted programs are read by.

type programTable struct {
	spot
	Plain         string             `toml:"number_without_point"`
	Step          *float64           `toml:"smallest_step"`
	TurnStep      *float64           `toml:"smallest_turn"`
	Starts        []string           `toml:"starts_with"`
	ArcTolerance  *float64           `toml:"arc_tolerance"`
	Centres       string             `toml:"arc_centres"`
	HomeReturn    string             `toml:"home_return"`
	HomeAxes      string             `toml:"home_axes"`
	HomeRapid     string             `toml:"home_rapid"`
	SecondHome    map[string]float64 `toml:"second_home"`
	LengthMoves   string             `toml:"length_moves"`
	Corners       string             `toml:"corners"`
	Entry         string             `toml:"radius_begins"`
	Return        string             `toml:"cycle_return"`
	PeckClear     *float64           `toml:"peck_clear"`
	ChipBreak     *float64           `toml:"chip_break"`
	Dwell         string             `toml:"dwell"`
	Repeats       string             `toml:"repeats"`
	Subprograms   string             `toml:"subprograms"`
	Digits        *int               `toml:"digits"`
	BlockDelete   *bool              `toml:"block_delete"`
	Expressions   bool               `toml:"expressions"`
	ChangeSeconds *float64           `toml:"change_seconds"`
	ChangeMoves   *bool              `toml:"change_moves"`
	Codes         map[string]string  `toml:"codes"`
}

type keyedInTable struct {
	spot
	Offsets []keyedOffsetTable `toml:"offset"`
	Lengths []keyedLengthTable `toml:"length"`
	Radii   []keyedRadiusTable `toml:"radius"`
}

type keyedOffsetTable struct {
	spot
	Number string             `toml:"number,required"`
	At     map[string]float64 `toml:"at,required"`
}

type keyedLengthTable struct {
	spot
	H      int     `toml:"h,required"`
	Length float64 `toml:"length,required"`
}

type keyedRadiusTable struct {
	spot
	D      int     `toml:"d,required"`
	Radius float64 `toml:"radius,required"`
}
