// Package sizing is the classic benchmark class of structural optimisation: pin-jointed bars whose areas come from a
// list, least mass within limits of stress and displacement.
//
// In: the neutral form of a problem (a JSON text). Out: the best design found, the front of mass against the greatest
// ratio, and how many distinct designs were analysed. Analysis is solver/frame's, the search is optimize's; this package
// only joins them, so that the quality of both can be measured where published answers exist.
package sizing
