package screws

import (
	"fmt"
	"strings"
)

// Slot is a T-slot (ISO 299) and the nut for it, mm. The throat is H8 where it guides, else
// H12.
type Slot struct {
	Throat float64
	Thread string     // of its bolt and its nut, "M12"
	Width  [2]float64 // of the head of the slot, least and most
	Head   [2]float64 // height of the head of the slot
	Depth  [2]float64 // of the whole slot
	Pitch  []float64  // from slot to slot, usual
	Nut    Nut
}

// Nut is a nut for a T-slot, mm.
type Nut struct {
	Width  float64 // below, in the head of the slot
	Height float64 // over all: what there is of thread at most
	Collar float64 // height of the part in the head of the slot
}

// slots: ISO 299:1987 as BS 2485 and ASME B5.1M give them; pitches BS 2485, without those
// that weaken the table. Nuts: ISO 299-2 and DIN 508, from memory.
var slots = []Slot{
	{8, "M6", [2]float64{14.5, 16}, [2]float64{7, 8}, [2]float64{15, 18}, []float64{32, 40, 50}, Nut{13, 10, 6}},
	{10, "M8", [2]float64{16, 18}, [2]float64{7, 8}, [2]float64{17, 21}, []float64{40, 50, 63}, Nut{15, 12, 6}},
	{12, "M10", [2]float64{19, 21}, [2]float64{8, 9}, [2]float64{20, 25}, []float64{50, 63, 80}, Nut{18, 14, 7}},
	{14, "M12", [2]float64{23, 25}, [2]float64{9, 11}, [2]float64{23, 28}, []float64{63, 80, 100}, Nut{22, 16, 8}},
	{18, "M16", [2]float64{30, 32}, [2]float64{12, 14}, [2]float64{30, 36}, []float64{80, 100, 125}, Nut{28, 20, 10}},
	{22, "M20", [2]float64{37, 40}, [2]float64{16, 18}, [2]float64{38, 45}, []float64{100, 125, 160}, Nut{35, 28, 14}},
	{28, "M24", [2]float64{46, 50}, [2]float64{20, 22}, [2]float64{48, 56}, []float64{100, 125, 160, 200}, Nut{44, 36, 18}},
}

// SlotOf returns the T-slot of that throat, mm. The error names what there is.
func SlotOf(throat float64) (Slot, error) {
	var names []string
	for _, s := range slots {
		if s.Throat == throat {
			return s, nil
		}
		names = append(names, number(s.Throat))
	}
	return Slot{}, fmt.Errorf("slot of %v mm, expected one of %s mm", throat, strings.Join(names, ", "))
}
