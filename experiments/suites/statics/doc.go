// Package statics is the verification suite of the frame solver: structures with known answers, from beams to sheds.
//
// In: nothing. Out: for every figure of every case what was expected, by which source, what the solver got, and whether
// they agree (Run), and the same as a table for the documentation (WriteTable). Each case is written in the neutral form
// and goes through its reader, so the suite covers the whole way from file to answer.
//
// Expected values are formulas evaluated here from closed forms, published figures, or the answer of an independent dense
// routine (dense.go) that shares no code with solver/frame. None comes from the solver itself.
package statics
