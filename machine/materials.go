package machine

import (
	"maps"
	"slices"
)

// densities gives kg/m3 by material.
var densities = map[string]float64{
	"steel":          7850, // Gere, Mechanics of Materials, appendix H
	"tool steel":     7850, // as steel; from memory, grades run from 7700 to 8160
	"aluminium":      2700, // 6061: producers' data
	"aluminium 6061": 2700, // producers' data
	"aluminium 7075": 2810, // producers' data
	"cast iron":      7150, // grey iron, class 35: producers' data, range 7000-7400
	"brass":          8500, // free-cutting C36000: producers' data
	"titanium":       4500, // Gere, appendix H
	"acetal":         1410, // Engineering Plastics Handbook, table 5.5
	"polyethylene":   970,  // high density, upper end of producers' data
}

// Materials lists the materials a file may name, in order of the alphabet.
func Materials() []string { return slices.Sorted(maps.Keys(densities)) }

// Density returns a material's density in kg/m3, or false if it is not known.
func Density(material string) (float64, bool) {
	d, ok := densities[material]
	return d, ok
}

// density reads the material at a key; an unknown one is a fault.
func (s *source) density(path, material string) float64 {
	d, ok := Density(material)
	if !ok {
		s.fault(path, quoted(material), "%s", oneOf(material, Materials()))
	}
	return d
}
