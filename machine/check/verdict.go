package check

import "fmt"

// Verdict is the outcome of a check. The zero value is Unproven: what nobody
// has looked at is not good.
type Verdict uint8

// The verdicts.
const (
	Unproven   Verdict = iota // the search ended before it could tell, or something is not modelled
	Contact                   // two bodies meet, or one is inside the other
	OverTravel                // an axis is asked beyond its travel
	Overload                  // a unit or the table carries more than it is rated for
	WithinPlay                // apart as drawn, but the location uncertainty could close the gap
	Tight                     // proven apart at the worst location, but closer than demanded
	Clear                     // proven at least the demanded clearance apart everywhere
)

var verdictWords = [...]string{"unproven", "contact", "over-travel", "overload", "within-play", "tight", "clear"}

// rank orders verdicts from worst (0) to best.
var rank = [...]int{Contact: 0, OverTravel: 1, Overload: 2, WithinPlay: 3, Unproven: 4, Tight: 5, Clear: 6}

// String returns the verdict's word; a value that is none of them is unproven.
func (v Verdict) String() string {
	if int(v) < len(verdictWords) {
		return verdictWords[v]
	}
	return verdictWords[Unproven]
}

// Worse reports whether v is worse than w. Contact is the worst, then
// over-travel, overload, within-play, unproven, tight and clear.
func (v Verdict) Worse(w Verdict) bool { return rank[v] < rank[w] }

// MarshalText returns the verdict's word.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText takes one of the words and nothing else.
func (v *Verdict) UnmarshalText(text []byte) error {
	for i, w := range verdictWords {
		if string(text) == w {
			*v = Verdict(i)
			return nil
		}
	}
	return fmt.Errorf("verdict %q, expected one of %q", text, verdictWords)
}

// Verdicts returns all verdicts, worst first.
func Verdicts() []Verdict {
	return []Verdict{Contact, OverTravel, Overload, WithinPlay, Unproven, Tight, Clear}
}
