package pages

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"gridswing/machine/check"
	"gridswing/machine/check/changeover"
)

// long is a plan of one step with so many sentences.
func long(sentences int) *changeover.Plan {
	st := changeover.Step{
		Number: 1, Kind: changeover.PutOn, Unit: "Spannstock groß, Ø 125", Setup: "réglage",
		Caution: []string{"It weighs 30.0 kg, more than the 20 kg that may be lifted by hand: use lifting gear."},
		Way:     &changeover.Way{Words: "straight", Verdict: check.Contact, Demand: 2, Pairs: 3},
	}
	for i := range sentences {
		st.Do = append(st.Do, fmt.Sprintf("Do what sentence %d says, which is long enough to take more than one line of a page that is to be printed on A4.", i))
	}
	return &changeover.Plan{
		To: changeover.Named{Setup: strings.Repeat("a long name ", 20), File: "to.toml"}, Machine: "Mill", Verdict: check.Contact,
		On: []string{st.Unit}, Steps: []changeover.Step{st}, NoMinutes: []string{"put on"}, Caution: check.Caution,
	}
}

var count = regexp.MustCompile(`/Type /Page[^s]`)

// A step has a page of its own, whatever its picture; only what is longer than a page goes
// on on a second one. The same plan gives the same bytes.
func TestPagesOfSteps(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 160, 120))
	for sentences, want := range map[int]int{1: 2, 9: 2, 12: 2, 40: 3} {
		file := filepath.Join(t.TempDir(), "a.pdf")
		var first []byte
		for range 2 {
			if err := Changeover(t.Context(), file, long(sentences), []*image.RGBA{img}); err != nil {
				t.Fatal(err)
			}
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if n := len(count.FindAll(data, -1)); n != want {
				t.Errorf("%d sentences: %d pages, want %d", sentences, n, want)
			}
			if first != nil && !bytes.Equal(first, data) {
				t.Error("not the same bytes")
			}
			first = data
		}
	}
}

// What ends early leaves nothing behind, and an error names the file.
func TestPagesWholeOrNone(t *testing.T) {
	dir := t.TempDir()
	img := []*image.RGBA{image.NewRGBA(image.Rect(0, 0, 16, 12))}
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if err := Changeover(ended, filepath.Join(dir, "a.pdf"), long(1), img); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	if err := Changeover(t.Context(), filepath.Join(dir, "none", "a.pdf"), long(1), img); err == nil || !strings.Contains(err.Error(), "a.pdf") {
		t.Errorf("%v", err)
	}
	list, err := os.ReadDir(dir)
	if err != nil || len(list) != 0 {
		t.Errorf("%v left, %v", list, err)
	}
}

// Pictures of one size are stored in the order of the steps, every time.
func TestSameBytesWithManyPictures(t *testing.T) {
	plan := long(1)
	var pictures []*image.RGBA
	for i := range 8 {
		st := plan.Steps[0]
		st.Number = i + 1
		if i > 0 {
			plan.Steps = append(plan.Steps, st)
		}
		img := image.NewRGBA(image.Rect(0, 0, 160, 120))
		img.Pix[4*i] = 255
		pictures = append(pictures, img)
	}
	file := filepath.Join(t.TempDir(), "a.pdf")
	var first []byte
	for range 5 {
		if err := Changeover(t.Context(), file, plan, pictures); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if first != nil && !bytes.Equal(first, data) {
			t.Fatal("not the same bytes")
		}
		first = data
	}
}
