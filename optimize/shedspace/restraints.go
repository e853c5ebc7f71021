package shedspace

import (
	"errors"
	"fmt"
	"slices"

	"leanbay/model/joints"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks/as4100"
)

// HeldMember is one member of the restraint map.
type HeldMember struct {
	solver.Member
	Flanges [2]HeldFlange // top (outer, up or out), bottom (inner)
	Outside string        // why no segments could be made; empty where they could
}

// HeldFlange is one flange: what holds it, and the segments between restraints when it is in compression.
type HeldFlange struct {
	Held     []solver.Restraint
	Segments []as4100.Segment
}

// RestraintMap lists every member of a design that has a section, with what holds each of its flanges. Segments are none
// for sections whose bending the code's rules here do not cover.
func (p *Problem) RestraintMap(d *shed.Design) ([]HeldMember, error) {
	m := p.Shed.Build(d)
	setEffectiveLengths(m)
	var out []HeldMember
	for i := range m.Structure.Members {
		mem := &m.Structure.Members[i]
		if mem.Section == nil || m.Structure.Elements[mem.Elements[0]].Bar {
			continue
		}
		h := HeldMember{Member: *mem}
		c, err := p.bench.rules.NewChecker(mem, as4100.Options{})
		if err != nil {
			h.Outside = err.Error()
		}
		for f, flange := range []solver.Flange{solver.TopFlange, solver.BottomFlange} {
			for _, r := range mem.Restraints {
				if r.Flange == flange || r.Flange == solver.BothFlanges {
					h.Flanges[f].Held = append(h.Flanges[f].Held, r)
				}
			}
			if err == nil {
				h.Flanges[f].Segments = slices.Clone(c.Segments(flange))
			}
		}
		out = append(out, h)
	}
	if len(out) == 0 {
		return nil, errors.New("the design has no member with a section")
	}
	return out, nil
}

// JointPage finds one kind of joint of an assessed design, with its working.
func (a *Assessment) JointPage(kind string) (*joints.Joint, error) {
	var have []string
	for i := range a.Connections {
		if j := &a.Connections[i]; string(j.Kind) == kind {
			return j, nil
		}
		have = append(have, string(a.Connections[i].Kind))
	}
	if len(have) == 0 {
		return nil, errors.New("the design has no stable answer, so its joints have no forces")
	}
	return nil, fmt.Errorf("no kind of joint is called %q; there are: %q", kind, have)
}
