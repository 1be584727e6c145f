// Package pages sets pages to be printed: those of a changeover (Changeover), and those of one
// setup (Setup.Document), which go into a binder.
//
// The pages of a setup follow the day of the person at the machine:
//
//  1. What it is, whether it may be run, and what it looks like. The first page is enough to
//     decide: that this is the setup that is wanted (part, revision, hash of the inputs), the
//     verdict with what it is worth, the worst of what is not clear, warnings, and a picture in
//     which everything that is placed has a number.
//  2. What is not clear, if anything is. It comes before all work: nobody should lift a trunnion
//     to learn on the sixth page that it will meet the column.
//  3. Setting up: the steps in their order with boxes to tick, the holes in plan, seats, screws
//     with torques. Who does this stands at the machine with spanners, and needs nothing else.
//  4. Whether it stands right: the stack from the side with heights to hold against a rule, loads
//     against ratings.
//  5. Tools: put together and measured away from the machine, often by somebody else, so in a
//     table of their own with room for what is measured.
//  6. Keying in: offsets, centres, where to begin to probe, how far off the part can be. Nominal
//     values have a blank beside them and are never offered alone.
//  7. The run: operations with the positions that the control shows, how high the tool must be
//     before an index, the program.
//  8. What to come back to when something is changed: what comes nearest, the swing.
//  9. What all of it rests on: what is not modelled, assumed, only stated, left to makers.
//  10. Proving run and sign-off, last, since it is signed last, under the caution in full. In short
//     that stands at the foot of each page.
//
// The words are those of package text: there is one wording for one thing. Numbers in tables come
// straight from the report; sentences of the checks have mm and are converted by text.Lengths.
// What is keyed into a control is in the control's unit on all pages.
package pages
