package machine

// Audit is what is known of a solid's surface.
type Audit struct{ Closed, Oriented, InsideOut bool }
