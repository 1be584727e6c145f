package binder

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"path"
	"strings"
)

// What build servers read: one suite, in which each setup is a test.
type (
	junitSuites struct {
		XMLName  xml.Name   `xml:"testsuites"`
		Name     string     `xml:"name,attr"`
		Tests    int        `xml:"tests,attr"`
		Failures int        `xml:"failures,attr"`
		Errors   int        `xml:"errors,attr"`
		Time     string     `xml:"time,attr"`
		Suite    junitSuite `xml:"testsuite"`
	}
	junitSuite struct {
		Name     string      `xml:"name,attr"`
		Tests    int         `xml:"tests,attr"`
		Failures int         `xml:"failures,attr"`
		Errors   int         `xml:"errors,attr"`
		Time     string      `xml:"time,attr"`
		Cases    []junitCase `xml:"testcase"`
	}
	junitCase struct {
		Name    string        `xml:"name,attr"`
		Class   string        `xml:"classname,attr"`
		Time    string        `xml:"time,attr"`
		Error   *junitProblem `xml:"error"`
		Failure *junitProblem `xml:"failure"`
	}
	junitProblem struct {
		Type    string `xml:"type,attr"`
		Message string `xml:"message,attr"`
		Text    string `xml:",chardata"`
	}
)

// junit is the summary as JUnit's XML: what is not clear is a failure, what could not be read or
// made an error. Characters that XML cannot hold are replaced.
func (s *Summary) junit() ([]byte, error) {
	suite := junitSuite{Name: "gridswing binder", Tests: len(s.Setups)}
	total := 0.0
	for i := range s.Setups {
		x := &s.Setups[i]
		c := junitCase{Name: path.Base(x.Name), Class: strings.ReplaceAll(path.Dir(x.Name), "/", "."), Time: seconds(x.Seconds)}
		if c.Class == "." {
			c.Class = "setups"
		}
		switch {
		case x.State != MadeState:
			suite.Errors++
			first, _, _ := strings.Cut(x.Fault, "\n")
			c.Error = &junitProblem{x.State, first, strings.TrimSpace(x.Fault + "\n" + x.Stack)}
		case !x.Clear:
			suite.Failures++
			c.Failure = &junitProblem{x.Verdict, x.Why, fmt.Sprintf("%s: %s: %s", x.File, x.Verdict, x.Why)}
		}
		total += x.Seconds
		suite.Cases = append(suite.Cases, c)
	}
	suite.Time = seconds(total)
	all := junitSuites{Name: suite.Name, Tests: suite.Tests, Failures: suite.Failures, Errors: suite.Errors, Time: suite.Time, Suite: suite}
	var out bytes.Buffer
	out.WriteString(xml.Header)
	e := xml.NewEncoder(&out)
	e.Indent("", "  ")
	if err := e.Encode(all); err != nil {
		return nil, err
	}
	out.WriteByte('\n')
	return out.Bytes(), nil
}

func seconds(s float64) string { return fmt.Sprintf("%.3f", s) }
