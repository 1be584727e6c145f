// Package text says in words, for a person at a terminal, what a check or an
// audit found: what matters first, worst first. Its lengths err towards the
// worse: a clearance is rounded down, an uncertainty up, and no digit is finer
// than 0.01 mm, but those of a demand, which is printed as the file states it. What is a promise on the screen is one in the report.
package text
