package shedspace

import (
	"fmt"
	"math"
	"slices"

	"leanbay/model/actions"
	"leanbay/model/actions/asnzs1170"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
)

// usualSecondaryWinds are the factors on the site wind speed that secondaries may be sized for where wind reserve is an
// objective and the brief names none: steps of 5 % in speed are 10 % in pressure, about one step of the stock's thicknesses.
var usualSecondaryWinds = []float64{1, 1.05, 1.10, 1.15, 1.20}

// secondaryWinds are the winds that purlins, girts, jambs and lintels may be sized for, ascending, as in shed.Design: 0 is the
// site's own, which always is among them. Others are part of the space only where the brief names them or wind reserve is an
// objective: the lightest that pass end every design's reserve, however strong its frames are.
func (p *Problem) secondaryWinds() []float64 {
	list := p.Brief.Freedoms.SecondaryWind
	if len(list) == 0 && p.wants(brief.ObjWindReserve) {
		list = usualSecondaryWinds
	}
	out := []float64{0}
	for _, f := range list {
		if f = math.Round(f*100) / 100; f > 1 {
			out = append(out, f)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// addSecondaryWind frees the wind that purlins, girts, jambs and lintels are sized for.
func (p *Problem) addSecondaryWind() {
	values := p.secondaryWinds()
	if len(values) == 1 {
		return
	}
	factors := append([]float64{1}, values[1:]...)
	p.add(gene{
		Gene:  optimize.Gene{Name: "secondaries sized", Options: names(values, shed.SecondaryWindText), Values: factors, Ordered: true},
		apply: func(d *shed.Design, i int) { d.SecondaryWind = values[i] },
		has:   func(d *shed.Design, i int) bool { return d.SecondaryWind == values[i] },
		idle:  func(d *shed.Design) bool { return d.DrawnSecondaries },
	})
}

// forWind ends the description of a secondary that is sized for more than the site's own wind.
func forWind(factor float64) string {
	if factor == 0 {
		return ""
	}
	return ", " + shed.SecondaryWindText(factor)
}

// blow is a wind that secondaries are sized for: the pressures on them, and the site's cases in that wind.
type blow struct {
	local *asnzs1170.Local
	cases []actions.Case
}

// blow is the site's own wind (0), or one of a factor on its speed, worked once. The factor acts as it does in WindReserve. A
// lock pull of doors stays what their maker states.
func (p *Problem) blow(b *bench, factor float64) (*blow, error) {
	if factor == 0 {
		local, err := b.pack.Local(p.Shed.Building, p.Shed.Site)
		return &blow{local, b.cases}, err
	}
	if at := b.blows[factor]; at != nil {
		return at, nil
	}
	site := *p.Shed.Site
	blowHarder(&site, factor)
	cases, err := b.pack.Cases(p.Shed.Building, &site)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", shed.SecondaryWindText(factor), err)
	}
	local, err := b.pack.Local(p.Shed.Building, &site)
	if err != nil {
		return nil, err
	}
	b.blows[factor] = &blow{local, cases}
	return b.blows[factor], nil
}
