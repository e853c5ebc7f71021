package runs

import (
	"leanbay/optimize/shedspace"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/checks/asnzs4600"
)

// NotCovered lists by name what no part of the tool looks at, for every screen and file.
func NotCovered(p *shedspace.Problem) []string {
	out := []string{
		"connections: capacities of end plates, cleats, caps, bolts and welds",
		"base plates, hold-down bolts, footings and the ground",
		"erection and temporary stability",
		"jambs and lintels of openings as members of their own",
		"sag and slack of rods",
		"torsional and flexural-torsional buckling in the frame analysis",
	}
	out = append(out, p.NotCovered()...)
	out = append(out, as4100.NotCovered()...)
	return append(out, asnzs4600.NotCovered()...)
}
