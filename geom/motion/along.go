package motion

import "math"

// Along returns the chain led along ways: at new parameters s its joints stand
// where those of c do at
//
//	from + s[0] ways[0] + s[1] ways[1] + ...,
//
// off by no more than within[k] in parameter k, either way: that becomes slack.
// A straight path of the axes is one way, gone from 0 to 1; the box of a rapid
// whose axes do not arrive together is one way for each axis.
func (c Chain) Along(from, within Params, ways ...Params) Chain {
	led := Chain{Joints: make([]Joint, len(c.Joints)), Home: c.Home}
	for i := range c.Joints {
		j := c.Joints[i]
		j.Offset = j.Value(&from)
		gain := j.Gain
		j.Gain = Params{}
		for k, g := range gain {
			if g == 0 {
				continue
			}
			j.Slack += math.Abs(g) * within[k]
			for w := range ways {
				j.Gain[w] += g * ways[w][k]
			}
		}
		led.Joints[i] = j
	}
	return led
}

// Unit is the box in which the first n parameters go from 0 to 1 and the others
// stay at 0.
func Unit(n int) (b Box) {
	for k := range n {
		b.Hi[k] = 1
	}
	return b
}
