// Package shedspace is the one place where shed meets search: it turns a brief's freedoms into genes, genes into designs,
// and designs into scores by analysis and checks.
//
// In: a brief. Out: an optimize.Problem, and full assessments of single designs. It knows no store and no screen.
package shedspace

import (
	"fmt"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
)

// Problem is a brief as a search problem.
type Problem struct {
	Brief *brief.Brief
	Shed  *shed.Shed
	Drawn *shed.Design // the proposal

	bench *bench
	genes []gene
	space optimize.Space
	walls [4][][]shed.Brace // south, north, west gable, east gable

	decoder *decoder

	objectives []objective
	limits     []ownLimit
	onlyWalls  *[2][][]shed.Brace           // the only options of the walls, where set
	trimmers   map[trimmerKind]trimmerSteel // jambs and lintels that are there already; nil chooses them
}

var _ optimize.Problem = (*Problem)(nil)

// New reads the freedoms of a valid brief and prepares everything that its designs share: actions, tables, loads. Objectives
// are chosen by name (ObjectiveNames); none given are mass and compliance.
func New(b *brief.Brief, objectives ...string) (*Problem, error) {
	return NewWith(b, Wishes{Objectives: objectives})
}

// NewWith is New with further wishes.
func NewWith(b *brief.Brief, w Wishes) (*Problem, error) {
	chosen, err := choose(w.Objectives)
	if err != nil {
		return nil, err
	}
	limits, err := readLimits(w.Limits)
	if err != nil {
		return nil, err
	}
	s, err := shed.FromBrief(b)
	if err != nil {
		return nil, err
	}
	drawn, err := s.Proposal(b.Library().Find)
	if err != nil {
		return nil, err
	}
	p := &Problem{Brief: b, Shed: s, Drawn: drawn, objectives: chosen, limits: limits}
	drawn.DrawnSecondaries = p.wants(brief.ObjDepartures)
	if p.bench, err = newBench(p); err != nil {
		return nil, fmt.Errorf("%s: %w", b.Name, err)
	}
	return p, p.buildGenes()
}

// Space implements optimize.Problem.
func (p *Problem) Space() *optimize.Space { return &p.space }

// Key is the canonical name of a design.
func (p *Problem) Key(d *shed.Design) string { return d.Key(p.Shed.UsedGroups(d)) }

// DesignText says each decision of a repaired point in words, by the gene's name.
func (p *Problem) DesignText(point []int) map[string]string {
	out := map[string]string{}
	d, _ := p.Decode(point)
	for i := range p.genes {
		if g := &p.genes[i]; !g.idle(d) {
			out[g.Name] = g.Options[point[i]]
		}
	}
	return out
}

// Encode finds the point of a design, so that a search can start from what was drawn; ok is false where the design lies
// outside the freedoms, and the point is then the nearest by decisions.
func (p *Problem) Encode(d *shed.Design) (point []int, ok bool) {
	point = make([]int, len(p.genes))
	for i := range p.genes {
		o := p.genes[i].option(d)
		if o < 0 && p.genes[i].near != nil {
			o = p.genes[i].near(d)
		}
		point[i] = max(0, o)
	}
	key, repaired := p.Canonical(point)
	return repaired, key == p.Key(d)
}
