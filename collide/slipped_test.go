package collide

import "testing"

// Pairs on which float64 alone, or a plane put through three corners that are all
// but on one line, once slipped. The oracle says what is right.
func TestTrianglesThatSlipped(t *testing.T) {
	for _, tt := range []struct {
		name string
		a, b triangle
	}{
		{
			"two caps that share a plane but for rounding: 4e-7 mm too far",
			triangle{{X: -15.047224998474121, Y: 30.633975982666016, Z: -61.74076843261719}, {X: 25.278648376464844, Y: -16.399988174438477, Z: 6.744527339935303}, {X: -0.01127135381102562, Y: 0.23988942801952362, Z: 0.06273908913135529}},
			triangle{{X: 0.07402386516332626, Y: 12.997350692749023, Z: -36.060401916503906}, {X: 8.85291576385498, Y: 2.7581164836883545, Z: -21.1512393951416}, {X: -1.8056989908218384, Y: 15.189760208129883, Z: -39.25273132324219}},
		},
		{
			"1e-7 mm across, 2e-4 mm from one a metre across: said to meet",
			triangle{{X: 341.0903429787767, Y: 138.9863441703102, Z: -173.21206184836035}, {X: -450.5191310023829, Y: -106.86726828034726, Z: 777.643815505748}, {X: 352.84717364258944, Y: 438.7453524308238, Z: -299.9795121041412}},
			triangle{{X: 336.2302102897495, Y: 427.4598116296237, Z: -277.69008170555526}, {X: 336.2302103682447, Y: 427.45981145096573, Z: -277.6900817361557}, {X: 336.2302103939396, Y: 427.45981132280605, Z: -277.69008163237226}},
		},
		{
			"six corners on a line but for rounding: the common point was off by 0.16 mm",
			triangle{{X: 3.8478265236484575, Y: 2.4880161482363983, Z: -16.679877036205426}, {X: -4.829244346539877, Y: -2.5672604814669, Z: -5.331460218426831}, {X: 0.1214816969796022, Y: 0.31704115007253186, Z: -11.806329852777472}},
			triangle{{X: -3.4688451194433068, Y: -1.7746895179824844, Z: -7.110675543349103}, {X: -5.818063699880978, Y: -3.143348362126919, Z: -4.0382203282520575}, {X: -8.227788887251865, Y: -4.547258461049395, Z: -0.8866307824597582}},
		},
	} {
		for range 3 {
			tt.a = triangle{tt.a[1], tt.a[2], tt.a[0]}
			if _, err := checkTriangles(&tt.a, &tt.b); err != nil {
				t.Errorf("%s: %v", tt.name, err)
			}
			if _, err := checkTriangles(&tt.b, &tt.a); err != nil {
				t.Errorf("%s, changed round: %v", tt.name, err)
			}
		}
	}
}
