package check

// Loads is what stands on units with rotary axes and on the table, against what they are
// rated for. What is over a rating, or has none where others are stated, is in
// Report.Findings too.
type Loads struct {
	// Rated has a line for each load: the table's first, then unit by unit.
	Rated []Rated    `json:"rated"`
	Units []UnitLoad `json:"units"` // each unit with rotary axes, the machine's own first
	// Counterweight is nil where none is asked for.
	Counterweight *Counterweight `json:"counterweight,omitempty"`
	Notes         []string       `json:"notes"` // what the numbers hold for
}

// Kinds of Rated.
const (
	TableLoad       = "table load"
	FaceplateLoad   = "faceplate load"
	TiltMoment      = "tilt moment"      // about the tilt axis
	RotaryMoment    = "rotary moment"    // about the rotary axis
	FaceplateMoment = "faceplate moment" // on the faceplate, square to the rotary axis
)

// Rated is one load, the largest over the commanded ranges, and its rating.
type Rated struct {
	Unit string `json:"unit"` // "machine" or the placed component
	Kind string `json:"kind"`
	Axis string `json:"axis,omitempty"` // the axis that a moment is about
	// Inertia: the axis accelerates as its ratings state; without it all stands still.
	Inertia bool `json:"inertia,omitempty"`
	// Own: what the unit itself moves is counted.
	Own bool `json:"own,omitempty"`
	// Load is nil where it is not known: Reason says why. It is in Measure: "kg" or "N m".
	Load    *float64 `json:"load"`
	Measure string   `json:"measure"`
	// Rating is nil where none is stated; Margin is what it leaves, less than 0 where the
	// load is over it.
	Rating *float64 `json:"rating"`
	Margin *float64 `json:"margin"`
	// At is where the axes stand that matter: where the moment is largest, where the
	// rated load is least.
	At []Position `json:"at"`
	// Verdict is nil where nothing is judged: the unit states no ratings at all, or the machine no table_load.
	Verdict *Verdict `json:"verdict"`
	Reason  string   `json:"reason,omitempty"`
}

// Words says what a line is about: "moment about A with its own, accelerating".
func (q *Rated) Words() string {
	words := q.Kind
	switch q.Kind {
	case TiltMoment, RotaryMoment:
		words = "moment about " + q.Axis
		if q.Own {
			words += " with its own"
		}
	case FaceplateMoment:
		words = "moment on the faceplate"
	}
	if q.Inertia {
		words += ", accelerating"
	}
	return words
}

// UnitLoad is what a unit carries.
type UnitLoad struct {
	Unit string `json:"unit"`
	// Carried is what stands on the unit and is moved by its axes, Own what the unit
	// itself moves with them; nil where it is not known.
	Carried *Weight `json:"carried"`
	Own     *Weight `json:"own"`
	// Unknown names the bodies whose weight is not known, each with the reason.
	Unknown []string `json:"unknown,omitempty"`
	// Envelope is the moment about the tilt axis, nil if there is none or it is not known.
	Envelope *Envelope `json:"envelope,omitempty"`
}

// Weight is a stack of bodies as one, every axis at zero, machine coordinates.
type Weight struct {
	Mass   float64    `json:"mass_kg"`
	Centre [3]float64 `json:"centre_mm"`
	// Inertia is the tensor about Centre: moments on the diagonal, products with a minus
	// sign beside it.
	Inertia [3][3]float64 `json:"inertia_kg_mm2"`
}

// Envelope is the moment about a tilt axis over tilt: between which values it lies for all
// commanded positions of the rotary axis. Positive is where it turns the axis to +.
type Envelope struct {
	Tilt   Range  `json:"tilt"`
	Rotary *Range `json:"rotary"` // nil if nothing turns
	Own    bool   `json:"own"`
	// Rating is nil where none is stated. It holds both ways.
	Rating *float64         `json:"rating_nm"`
	Points []EnvelopePoint  `json:"points"` // evenly over tilt, both ends included
	Worst  []Position       `json:"worst"`  // where it is largest, standing still
	Most   float64          `json:"most_nm"`
	Moving *EnvelopeExtreme `json:"moving,omitempty"` // with inertia; nil without an acceleration
}

// EnvelopePoint is the moment at one tilt, at rest and with inertia (the same without an
// acceleration), N m.
type EnvelopePoint struct {
	Tilt     float64 `json:"tilt_deg"`
	Least    float64 `json:"least_nm"`
	Greatest float64 `json:"greatest_nm"`
	Lowest   float64 `json:"lowest_moving_nm"`
	Highest  float64 `json:"highest_moving_nm"`
}

// EnvelopeExtreme is the largest moment, signed, and where.
type EnvelopeExtreme struct {
	At     []Position `json:"at"`
	Moment float64    `json:"moment_nm"`
}

// Counterweight is what balances a rotary axis at a stated radius.
type Counterweight struct {
	On     string  `json:"on"`
	Axis   string  `json:"axis"`
	Radius float64 `json:"radius_mm"`
	// Stands: it is in the setup, and counted. Mass and Angle are then what is stated.
	Stands bool    `json:"stands"`
	Mass   float64 `json:"mass_kg"`
	// Angle is from the way in which the grid's letters count, counter-clockwise as one
	// looks at the face.
	Angle  float64 `json:"angle_deg"`
	Length float64 `json:"length_mm"` // of its cylinder
	// Without and With are the unbalance, mass times radius, without it and with it.
	Without float64 `json:"without_kg_mm"`
	With    float64 `json:"with_kg_mm"`
	// Carried is the mass that stands on the axis, it included.
	Carried float64 `json:"carried_kg"`
	// Reason says why it could not be worked out.
	Reason string `json:"reason,omitempty"`
}
