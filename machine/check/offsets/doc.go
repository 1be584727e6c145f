// Package offsets says what to key in at the control for a setup: work offsets
// and rotary centres, as the method of the machine's control asks for, what a part that
// probing found shifted and turned makes of them, and where to begin to probe.
//
// Start at [Of]. Inside, everything is in mm and radians, machine positions are those of the
// programmed axes; the result is in the unit and with the decimals of the control.
package offsets
