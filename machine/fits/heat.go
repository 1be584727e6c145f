package fits

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// expansions are coefficients of linear thermal expansion, 1/K, near room temperature.
// Gere, "Mechanics of Materials", appendix H, unless noted. They are usual values: grades
// of one material differ by a few percent, steels (10 to 18) by more.
var expansions = map[string]float64{
	"steel":          12e-6, // usual for carbon steels: from memory
	"tool steel":     12e-6, // as steel; from memory
	"aluminium":      23e-6,
	"aluminium 6061": 23e-6,
	"aluminium 7075": 23e-6,
	"cast iron":      11e-6,  // grey iron: 9.9 to 12
	"brass":          20e-6,  // 19.1 to 21.2
	"titanium":       9e-6,   // 8 to 11; from memory
	"acetal":         110e-6, // from memory: 80 to 130
	"polyethylene":   200e-6, // 140 to 290; from memory
}

// Expansion returns a material's coefficient of thermal expansion, 1/K.
func Expansion(material string) (float64, error) {
	if a, known := expansions[material]; known {
		return a, nil
	}
	return 0, fmt.Errorf("material %q, expected one whose thermal expansion is known: %s",
		material, strings.Join(slices.Sorted(maps.Keys(expansions)), ", "))
}

// Mismatch returns by how much a length of one material outgrows the same length of
// another, mm, when each is warmer than when it was measured by the given kelvin.
func Mismatch(length float64, material string, warmer float64, other string, otherWarmer float64) (float64, error) {
	a, err := Expansion(material)
	if err != nil {
		return 0, err
	}
	b, err := Expansion(other)
	if err != nil {
		return 0, err
	}
	return length * (a*warmer - b*otherWarmer), nil
}
