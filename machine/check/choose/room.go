package choose

import (
	"cmp"
	"math"
	"slices"

	"gridswing/machine/check"
)

// room is what a candidate leaves of each concern, as shares of what is demanded: those of
// check.Concerns in their order, and the same sorted, the tightest first. What is not known is
// check.MostShare. What is found later makes it less, or leaves it.
type room struct{ of, sorted []float64 }

// wholeRoom is that of a candidate of which nothing is known.
func wholeRoom() room {
	all := slices.Repeat([]float64{check.MostShare}, len(check.Concerns()))
	return room{all, all}
}

// with is the room with no more than so much of one concern.
func (r room) with(concern int, share float64) room {
	of := slices.Clone(r.of)
	of[concern] = min(of[concern], toldApart(share))
	return room{of, slices.Sorted(slices.Values(of))}
}

// compareRoom puts that first whose tightest share is larger; where they tie, whose next one is,
// and so on: what all candidates have alike does not keep one from being better than another.
func compareRoom(a, b room) int {
	for i := range a.sorted {
		if c := cmp.Compare(b.sorted[i], a.sorted[i]); c != 0 {
			return c
		}
	}
	return 0
}

// finest is the least ratio of two shares that are told apart: margins are no truer than that.
const finest = 1.02

// toldApart rounds a share down so that those that are as good as equal are.
func toldApart(share float64) float64 {
	if share <= 0 || share >= check.MostShare {
		return min(share, check.MostShare)
	}
	return math.Pow(finest, math.Floor(math.Log(share)/math.Log(finest)+1e-9))
}
