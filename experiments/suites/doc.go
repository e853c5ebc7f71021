// Package suites holds what leanbay measures itself by: functions with known answers, and the runs over seeds that make a
// table of them.
//
// In: nothing but numbers of seeds and evaluations. Out: rows of figures for a table. It prints nothing.
package suites
