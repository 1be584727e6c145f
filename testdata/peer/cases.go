package peer

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Case is one posed pair of solids with the library's answer.
type Case struct {
	A, B string // names of solids; their surfaces are meshes/<name>.stl
	Pose geom.Pose
	Answer
}

// header is the first line of the file of cases.
var header = []string{"a", "b",
	"r00", "r01", "r02", "x", "r10", "r11", "r12", "y", "r20", "r21", "r22", "z",
	"distance", "contact"}

// ReadCases reads a file of cases as testdata/peer/generate writes it.
func ReadCases(path string) ([]Case, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord = len(header)
	rows, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if len(rows) < 2 {
		return nil, fmt.Errorf("%s: no cases", path)
	}
	var cases []Case
	for i, row := range rows[1:] {
		var v [14]float64
		for k, text := range row[2:] {
			if v[k], err = strconv.ParseFloat(text, 64); err != nil {
				return nil, fmt.Errorf("%s:%d: %w", path, i+2, err)
			}
		}
		c := Case{A: row[0], B: row[1], Answer: Answer{Distance: v[12], Contact: v[13] != 0}}
		c.Pose.R = geom.Rotation{{v[0], v[1], v[2]}, {v[4], v[5], v[6]}, {v[8], v[9], v[10]}}
		c.Pose.T = r3.Vector{X: v[3], Y: v[7], Z: v[11]}
		cases = append(cases, c)
	}
	return cases, nil
}

// WriteCases writes a file of cases.
func WriteCases(w io.Writer, cases []Case) error {
	if _, err := fmt.Fprintln(w, strings.Join(header, ",")); err != nil {
		return err
	}
	for _, c := range cases {
		if _, err := fmt.Fprintln(w, c.String()); err != nil {
			return err
		}
	}
	return nil
}

// String returns the case as a line of the file of cases.
func (c Case) String() string {
	contact := 0
	if c.Contact {
		contact = 1
	}
	distance := strconv.FormatFloat(c.Distance, 'g', -1, 64)
	return fmt.Sprintf("%s,%s,%s,%s,%d", c.A, c.B, FormatPose(c.Pose, ","), distance, contact)
}

// Agrees reports whether another distance, 0 meaning contact, is the
// library's: within 1e-6 of it relatively, or 1e-7 mm where that is more.
// Where the library finds a gap that is wider than rounding, contact is wrong;
// where it finds contact, so is any gap wider than rounding.
func (c Case) Agrees(distance float64) bool {
	if c.Contact {
		return distance <= 1e-7
	}
	if distance == 0 && c.Distance > 1e-9 {
		return false
	}
	return math.Abs(distance-c.Distance) <= max(1e-7, 1e-6*c.Distance)
}
