package posted

import (
	"gridswing/machine/check"
)

// hit is something on a step that is not clear.
type hit struct {
	// What is the same of two hits is one finding where their steps follow each other.
	question string
	a, b     int    // as in Finding.Index; -1 where no body is concerned
	what     string // what else tells it from others, such as an axis or "deeper than it may be cut"

	verdict check.Verdict
	// left is what is left of what is demanded, mm: of hits with one verdict the one with the least is
	// told of.
	left float64
	// rough is set where it is not known of this very step.
	rough bool
	// demand is what is demanded there, proven what is proven, mm, -Inf where nothing is.
	demand, proven float64
	step           int32 // in the chunk
	// tell makes the finding, all but Line, Block, ProgramFile, Tool and the question, the verdict and
	// the index. It is called before the chunk is let go, or not at all.
	tell func() check.Finding
}

// worse orders hits by verdict, then by what is left.
func (h *hit) worse(other *hit) bool {
	if h.verdict != other.verdict {
		return h.verdict.Worse(other.verdict)
	}
	return h.left < other.left
}
