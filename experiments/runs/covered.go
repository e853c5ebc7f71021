package runs

import (
	"fmt"

	"leanbay/model/brief"
	"leanbay/optimize/shedspace"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/checks/asnzs4600"
)

// NotCovered lists by name what no part of the tool looks at, for every screen and file.
func NotCovered(p *shedspace.Problem) []string {
	out := []string{
		"connections without a stated detail: their design actions are given, they are not designed; knees and ridge then count as full-strength",
		"connections with one: webs and walls within a knee or ridge, stiffeners, turnbuckles and forks; walls of hollow sections are worked under cleats along the member and under the bolts of a prop's cap",
		"webs and walls under purlins' and girts' cleats, and posts that carry a floor half-way up a prop, for the beams' eccentricity",
		"bases: anchorage of bolts in the concrete",
		"footings: pads are held against uplift, overturning and the stated bearing pressure; their concrete, sliding and settlement are not",
		"doors themselves, the weight of leaves and barrels on their heads, and girts that hold the jambs of windows and personnel doors",
		slack(p.Brief),
		"sag of rods",
		"load sharing of joists beyond half in a screwed sheet floor; vibration of floors beyond 1 kN and the first frequency",
		"erection and temporary stability",
		"torsional and flexural-torsional buckling in the frame analysis",
	}
	out = append(out, p.NotCovered()...)
	out = append(out, as4100.NotCovered()...)
	return append(out, asnzs4600.NotCovered()...)
}

// slack says what is left out of service sway.
func slack(b *brief.Brief) string {
	if v := float64(b.Actions.RodSlack); v > 0 {
		return fmt.Sprintf("slack of rods beyond sway along the building, which has the slip of %.1f mm in each wall rod; forces are those of taut rods", v*1e3)
	}
	return "slack of rods: none is stated (actions.rod_slack), so none is in the sway in service"
}
