package pages

import (
	"image"
	"image/color"
	"path/filepath"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check/changeover"
	"gridswing/render/page/layout"
)

// frameGrey is the colour of the frame round a picture.
var frameGrey = color.RGBA{120, 120, 120, 255}

// How high the picture of a step may be, mm.
const (
	lowest  = 62.0
	highest = 118.0
)

// step sets the page of one step. Its picture is as large as what is told below it allows.
func (c *changing) step(st *changeover.Step, img *image.RGBA) error {
	f, title := c.flow, text.StepTitle(c.plan, st)
	picture, err := pictured(img, title)
	if err != nil {
		return err
	}
	f.NewPage(title)
	f.Title(title, "")
	words := "Setup " + st.Setup
	if st.Component != "" {
		words += ", component " + filepath.Base(st.Component)
	}
	f.Small(words)
	below := f.Height(func(trial *layout.Flow) {
		t := f
		t.Flow = trial
		c.told(t, st)
	})
	const apart = 8 // mm, above and below the picture
	high := min(highest, max(lowest, f.Left()-apart-below))
	f.Figure(layout.Figure{Drawing: picture, Height: high})
	c.told(f, st)
	return nil
}

// told sets what belongs below the picture: mass and time, cautions, what is done with boxes
// to tick, and the verdict on the way.
func (c *changing) told(f flow, st *changeover.Step) {
	facts(f, text.StepFacts(c.plan, st))
	for _, words := range st.Caution {
		f.Framed(true, "CAUTION: "+words)
	}
	f.Ticks(st.Do)
	if st.Way == nil {
		return
	}
	f.Space(3)
	wayVerdict(f, st.Way.Verdict, text.WayWords(st.Way))
	for i := range st.Way.Meetings {
		if i == text.MostMeetings {
			break
		}
		m := &st.Way.Meetings[i]
		f.Small(m.Verdict.String() + ": " + text.MeetingWords(m))
	}
}
