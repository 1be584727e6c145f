package machine

import "github.com/golang/geo/r3"

// The tables of the four kinds of file, key by key. A key that is not tagged
// "required" may be left out; pointers tell a key left out from a zero.
// testdata/example says what each key means.

type machineFile struct {
	Kind           string             `toml:"kind,required"`
	Name           string             `toml:"name,required"`
	Units          string             `toml:"units,required"`
	Up             r3.Vector          `toml:"up,required"`
	TableLoad      float64            `toml:"table_load"`
	DeclaredAbsent []string           `toml:"declared_absent"`
	Axes           []axisTable        `toml:"axis"`
	Spindle        *spindleTable      `toml:"spindle"`
	Tool           *toolTable         `toml:"tool"`
	Index          map[string]float64 `toml:"index"`
	Solids         []machineSolid     `toml:"solid"`
	Grids          []gridTable        `toml:"grid"`
	Slots          []slotsTable       `toml:"slots"`
	Rapid          string             `toml:"rapid"`
	Offsets        *offsetsTable      `toml:"offsets"`
	Magazine       *magazineTable     `toml:"magazine"`
	ToolChange     *toolChangeTable   `toml:"tool_change"`
	Ratings        *ratingsTable      `toml:"ratings"`
	Program        *programTable      `toml:"program"`
}

type componentFile struct {
	Kind      string           `toml:"kind,required"`
	Name      string           `toml:"name,required"`
	Units     string           `toml:"units,required"`
	Role      string           `toml:"role,required"`
	Material  string           `toml:"material"`
	Mass      *float64         `toml:"mass"`
	Solids    []componentSolid `toml:"solid,required"`
	Axes      []axisTable      `toml:"axis"`
	Seat      *seatTable       `toml:"seat"`
	Grids     []gridTable      `toml:"grid"`
	Slots     []slotsTable     `toml:"slots"`
	Fasteners []fastenerTable  `toml:"fastener"`
	Grips     []gripTable      `toml:"grip"`
	Ratings   *ratingsTable    `toml:"ratings"`
}

type setupFile struct {
	Kind           string              `toml:"kind,required"`
	Name           string              `toml:"name,required"`
	Units          string              `toml:"units,required"`
	Machine        string              `toml:"machine,required"`
	DeclaredAbsent []string            `toml:"declared_absent"`
	Demand         demandTable         `toml:"demand,required"`
	Places         []placeTable        `toml:"place"`
	Set            map[string]float64  `toml:"set"`
	Commanded      map[string]span     `toml:"commanded"`
	Index          map[string]float64  `toml:"index"`
	Tool           *toolTable          `toml:"tool"`
	Tools          []string            `toml:"tools"`
	Parts          []partTable         `toml:"part"`
	Operations     []operationTable    `toml:"operation"`
	MayBeCut       []mayBeCutTable     `toml:"may_be_cut"`
	Measured       []measuredTable     `toml:"measured"`
	Probed         []probedTable       `toml:"probed"`
	Offsets        *shiftTable         `toml:"offsets"`
	Drivers        []driverTable       `toml:"driver"`
	Loading        map[string]float64  `toml:"loading"`
	LoadingOrder   []string            `toml:"loading_order"`
	Friction       *float64            `toml:"friction"`
	Counterweight  *counterweightTable `toml:"counterweight"`
	Withdrawn      labels              `toml:"withdrawn"`
	Temperature    *float64            `toml:"temperature"`
	Lifting        *liftingTable       `toml:"lifting"`
	Keyed          *keyedInTable       `toml:"keyed"`
	Binder         *binderTable        `toml:"binder"`
}

type axisTable struct {
	spot
	Letter       string     `toml:"letter"`
	Name         string     `toml:"name"`
	Setting      bool       `toml:"setting"`
	Moves        string     `toml:"moves"`
	Kind         string     `toml:"kind"`
	CarriedBy    string     `toml:"carried_by"`
	Direction    r3.Vector  `toml:"direction,required"`
	Centre       *r3.Vector `toml:"centre"`
	Travel       *span      `toml:"travel"`
	Unlimited    bool       `toml:"unlimited"`
	Home         *float64   `toml:"home"`
	Sense        string     `toml:"sense"`
	Accuracy     float64    `toml:"accuracy"`
	RollOver     string     `toml:"roll_over"`
	RapidRate    *float64   `toml:"rapid_rate"`
	Acceleration *float64   `toml:"acceleration"`
}

type spindleTable struct {
	spot
	CarriedBy  string    `toml:"carried_by,required"`
	GaugePoint r3.Vector `toml:"gauge_point,required"`
	Axis       r3.Vector `toml:"axis,required"`
}

type toolTable struct {
	spot
	Diameter float64 `toml:"diameter,required"`
	Length   float64 `toml:"length,required"`
}

type solidTable struct {
	spot
	Name       string  `toml:"name,required"`
	File       string  `toml:"file,required"`
	ChordError float64 `toml:"chord_error,required"`
	CarriedBy  string  `toml:"carried_by"`
	Outside    bool    `toml:"outside"`
	Material   string  `toml:"material"`
}

type machineSolid struct {
	solidTable
	Role string    `toml:"role,required"`
	At   r3.Vector `toml:"at"`
}

type componentSolid struct {
	solidTable
	Opposite bool `toml:"opposite"`
}

type gripTable struct {
	spot
	Name    string      `toml:"name"`
	Jaws    []string    `toml:"jaws,required"`
	Opening []r3.Vector `toml:"opening"`
}

type demandTable struct {
	spot
	Default    float64           `toml:"default,required"`
	Swing      *float64          `toml:"swing"`
	Rest       *float64          `toml:"rest"`
	Rapid      *float64          `toml:"rapid"`
	Approach   *float64          `toml:"approach"`
	Cutting    *float64          `toml:"cutting"`
	Holder     *float64          `toml:"holder"`
	ToolChange *float64          `toml:"tool_change"`
	Travel     *float64          `toml:"travel"`
	Loading    *float64          `toml:"loading"`
	Pairs      []demandPairTable `toml:"pair"`
}

type demandPairTable struct {
	spot
	Bodies    []string `toml:"bodies,required"`
	Clearance float64  `toml:"clearance,required"`
	Reason    string   `toml:"reason,required"`
}

type placeTable struct {
	spot
	Name        string             `toml:"name,required"`
	Component   string             `toml:"component,required"`
	On          string             `toml:"on,required"`
	Pins        []string           `toml:"pins"`
	At          *r3.Vector         `toml:"at"`
	Turned      *float64           `toml:"turned"`
	Within      *float64           `toml:"within"`
	Set         map[string]float64 `toml:"set"`
	Gripped     *grippedTable      `toml:"gripped"`
	Keyed       *keyedTable        `toml:"keyed"`
	Stops       []r3.Vector        `toml:"stops"`
	AlsoOn      []string           `toml:"also_on"`
	Withdrawn   labels             `toml:"withdrawn"`
	Temperature *float64           `toml:"temperature"`
	Minutes     *float64           `toml:"minutes"`
	Way         waypoints          `toml:"path"`
}

type offsetsTable struct {
	spot
	Method   string   `toml:"method"`
	Lengths  string   `toml:"lengths"`
	Numbers  []string `toml:"numbers"`
	Decimals *int     `toml:"decimals"`
}

type magazineTable struct {
	spot
	Longest  *float64 `toml:"longest"`
	Heaviest *float64 `toml:"heaviest"`
	Diameter *float64 `toml:"diameter"`
	Alone    *float64 `toml:"alone"`
}

type toolChangeTable struct {
	spot
	At    map[string]float64 `toml:"at"`
	Zones []zoneTable        `toml:"zone"`
}

type zoneTable struct {
	spot
	Name       string     `toml:"name,required"`
	File       string     `toml:"file"`
	ChordError *float64   `toml:"chord_error"`
	At         *r3.Vector `toml:"at"`
	From       *r3.Vector `toml:"from"`
	To         *r3.Vector `toml:"to"`
	CarriedBy  string     `toml:"carried_by"`
}

type ratingsTable struct {
	spot
	Tilt               string     `toml:"tilt"`
	Rotary             string     `toml:"rotary"`
	Load               ratedLoad  `toml:"load"`
	TiltMoment         *float64   `toml:"tilt_moment"`
	RotaryMoment       *float64   `toml:"rotary_moment"`
	FaceplateMoment    *float64   `toml:"faceplate_moment"`
	IncludesOwn        *bool      `toml:"includes_own"`
	TiltAcceleration   *float64   `toml:"tilt_acceleration"`
	RotaryAcceleration *float64   `toml:"rotary_acceleration"`
	Face               *r3.Vector `toml:"face"`
	NotRated           []string   `toml:"not_rated"`
}

type counterweightTable struct {
	spot
	On       string   `toml:"on,required"`
	Radius   float64  `toml:"radius,required"`
	Height   float64  `toml:"height,required"`
	Diameter float64  `toml:"diameter,required"`
	Material string   `toml:"material,required"`
	Mass     *float64 `toml:"mass"`
	Angle    *float64 `toml:"angle"`
	Within   *float64 `toml:"within"`
}
