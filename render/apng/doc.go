// Package apng stores a row of pictures as one animated PNG, which shows the first of them
// where nothing but plain PNG is known.
//
// It follows the W3C's Portable Network Graphics specification, third edition (2025): an acTL
// chunk says how many frames there are, an fcTL before each one where it goes and how long it
// stands, and frames after the first are in fdAT chunks. All frames share a palette of 255
// colours, chosen from all of them; one more is transparent and stands for what has not changed, so
// that a frame is only as large as what is new in it.
//
// Same pictures, same bytes.
package apng
