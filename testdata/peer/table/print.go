//go:build linux

package main

import (
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"time"
)

// section prints a heading and the head of a table.
func section(title, note string, columns ...string) {
	fmt.Printf("\n## %s\n\n", title)
	if note != "" {
		fmt.Printf("%s\n\n", note)
	}
	row(columns...)
	row(slices.Repeat([]string{"---"}, len(columns))...)
}

func row(cells ...string) { fmt.Println("| " + strings.Join(cells, " | ") + " |") }

// times writes how many times faster: 3.2x.
func times(ratio float64) string { return significant(ratio) + "x" }

// duration writes seconds in the unit that suits them.
func duration(seconds float64) string {
	switch {
	case seconds >= 1:
		return significant(seconds) + " s"
	case seconds >= 1e-3:
		return significant(seconds*1e3) + " ms"
	}
	return significant(seconds*1e6) + " us"
}

// significant writes a number with three digits.
func significant(v float64) string {
	switch {
	case v >= 100:
		return fmt.Sprintf("%.0f", v)
	case v >= 10:
		return fmt.Sprintf("%.1f", v)
	}
	return fmt.Sprintf("%.3g", v)
}

func megabytes(bytes float64) string { return fmt.Sprintf("%.0f MB", bytes/1e6) }

// printMachine says on what and beside what the figures were measured.
func printMachine(rounds int) error {
	version, err := exec.Command("pkg-config", "--modversion", "fcl").Output()
	if err != nil {
		return fmt.Errorf("pkg-config fcl: %w", err)
	}
	load, err := os.ReadFile("/proc/loadavg")
	if err != nil {
		return err
	}
	cpu, err := os.ReadFile("/proc/cpuinfo")
	if err != nil {
		return err
	}
	fmt.Println("# Measured beside a general-purpose collision library")
	fmt.Println()
	fmt.Println("Printed by `testdata/peer/table/table.sh`; its program's comment says how time is taken. " +
		"While the load of the machine exceeds its cores, times on the wall are held up; processor times hardly are.")
	fmt.Println()
	row("", "")
	row("---", "---")
	row("date", time.Now().UTC().Format("2006-01-02 15:04 MST"))
	row("processor", fmt.Sprintf("%s, family %s, %d cores", field(cpu, "model name"), field(cpu, "cpu family"), runtime.NumCPU()))
	row("memory", strings.TrimSpace(memoryTotal()))
	row("load of the machine at the start (1, 5, 15 min)", strings.Join(strings.Fields(string(load))[:3], ", "))
	row("revision", revision())
	row("Go", runtime.Version()+" "+runtime.GOOS+"/"+runtime.GOARCH)
	row("library", "FCL "+strings.TrimSpace(string(version))+" (Debian's libfcl), OBBRSS, doubles, g++ -O3, one thread")
	row("turns", fmt.Sprint(rounds))
	return nil
}

// revision is the commit this program was built from, as Go has stamped it.
func revision() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	hash, changed := "unknown", ""
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			hash = s.Value[:min(12, len(s.Value))]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = ", with changes"
		}
	}
	return hash + changed
}

func memoryTotal() string {
	info, err := os.ReadFile("/proc/meminfo")
	if err != nil {
		return "unknown"
	}
	return field(info, "MemTotal")
}

// field returns the value of a "name : value" line.
func field(text []byte, name string) string {
	for line := range strings.Lines(string(text)) {
		if key, value, ok := strings.Cut(line, ":"); ok && strings.TrimSpace(key) == name {
			return strings.TrimSpace(value)
		}
	}
	return "unknown"
}
