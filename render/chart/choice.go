package chart

import (
	"fmt"
	"math"
)

// Choice is what a picture of candidates knows of one of them.
type Choice struct {
	State State
	// Share is what there is divided by what is demanded, where that is tightest: 1 just
	// meets the demand. It counts only where State is Clear or Tight.
	Share float64
	// GivenUp says that it was not looked at to the end: State and Share are bounds, it is
	// no better. One that is Clear so far is drawn hollow.
	GivenUp bool
	Present bool // it is how the setup stands now
	Rank    int  // 1 the recommended one, 2 the next best, ...; 0: none
	// Name is printed in the list of those that have a rank, and of the present one.
	Name string
}

// mostShare is the share from which on all is one shade, unless a picture says otherwise.
const mostShare = 5

func (c *Choice) check() error {
	switch {
	case math.IsNaN(c.Share):
		return fmt.Errorf("candidate %q has no share: NaN", c.Name)
	case c.Rank < 0:
		return fmt.Errorf("candidate %q has the rank %d: it must be 0 or more", c.Name, c.Rank)
	}
	return nil
}

// checkSize refuses what no picture is drawn at; 0 x 0 is for the picture to choose.
func checkSize(width, height int, lettering float64) error {
	if (width != 0 || height != 0) && (width < 600 || height < 400 || width > 20000 || height > 20000) {
		return fmt.Errorf("a size of %d x %d pixels: it must be 600 x 400 to 20000 x 20000", width, height)
	}
	return checkLettering(lettering)
}

func checkLettering(unit float64) error {
	if !(unit >= 0 && unit <= 20) {
		return fmt.Errorf("a unit of lettering of %g pixels: it must be 20 or less", unit)
	}
	return nil
}
