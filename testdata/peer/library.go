package peer

import (
	"bytes"
	"fmt"
	"os/exec"
	"strconv"
	"strings"

	"gridswing/geom"
)

// Answer is what the library says of one pose.
type Answer struct {
	Distance float64 // between the surfaces, mm; 0 where they cross
	Contact  bool    // whether its contact query finds the surfaces crossing
}

// Ask runs the harness on the meshes of two STL files and returns the
// library's answers, in the order of the poses.
func Ask(harness, stlA, stlB string, poses []geom.Pose) ([]Answer, error) {
	var job bytes.Buffer
	fmt.Fprintf(&job, "mesh a %s\nmesh b %s\n", stlA, stlB)
	for _, question := range []string{"distance", "contact"} {
		fmt.Fprintln(&job, question, len(poses))
		for _, p := range poses {
			fmt.Fprintln(&job, FormatPose(p, " "))
		}
	}
	command := exec.Command(harness)
	command.Stdin = &job
	var complaint bytes.Buffer
	command.Stderr = &complaint
	out, err := command.Output()
	if err != nil {
		return nil, fmt.Errorf("%s: %w: %s", harness, err, strings.TrimSpace(complaint.String()))
	}
	return parseAnswers(string(out), len(poses))
}

func parseAnswers(out string, n int) ([]Answer, error) {
	answers := make([]Answer, n)
	seen := 0
	for line := range strings.Lines(out) {
		field := strings.Split(strings.TrimSpace(line), ",")
		if field[0] != "distance" && field[0] != "contact" {
			continue
		}
		if len(field) != 3 {
			return nil, fmt.Errorf("harness printed %q, expected a question, a number and an answer", line)
		}
		i, err := strconv.Atoi(field[1])
		if err != nil || i < 0 || i >= n {
			return nil, fmt.Errorf("harness answered pose %q of %d", field[1], n)
		}
		value, err := strconv.ParseFloat(field[2], 64)
		if err != nil {
			return nil, fmt.Errorf("harness printed %q: %w", line, err)
		}
		if field[0] == "distance" {
			answers[i].Distance = value
		} else {
			answers[i].Contact = value != 0
		}
		seen++
	}
	if seen != 2*n {
		return nil, fmt.Errorf("harness gave %d answers, expected %d", seen, 2*n)
	}
	return answers, nil
}

// FormatPose returns the twelve numbers of a pose, row by row, each row's shift
// after its rotation, in the fewest digits that bring the same float64 back.
func FormatPose(p geom.Pose, separator string) string {
	numbers := make([]string, 0, 12)
	shift := [3]float64{p.T.X, p.T.Y, p.T.Z}
	for row := range 3 {
		for _, v := range [4]float64{p.R[row][0], p.R[row][1], p.R[row][2], shift[row]} {
			numbers = append(numbers, strconv.FormatFloat(v, 'g', -1, 64))
		}
	}
	return strings.Join(numbers, separator)
}
