// Package frames is the neutral form of a frame: one JSON file holds one structure and several load cases, each with the
// kind of analysis that it wants.
//
// In: the file's bytes. Out: a solver.Structure with its cases (Read), and the answer in the same neutral words and signs
// (Analyse). SI base units throughout: N, m, rad, Pa, kg. It knows no shed and no code of practice; the analysis itself is
// in solver/frame.
//
// Every member of the file becomes one solver.Member with one element of the same id, in the order of the file; every load
// case becomes one solver.Case and one combination of it alone.
package frames
