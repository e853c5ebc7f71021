package suites

import (
	"maps"
	"slices"

	"leanbay/experiments/briefs"
	"leanbay/model/brief"
	"leanbay/optimize/shedspace"
)

// Subspace is a part of a shipped brief's space that is small enough to be decided point by point: its freedoms are narrowed,
// and nothing else of it is changed but what narrow says.
type Subspace struct {
	Name, Brief string
	narrow      func(b *brief.Brief)
}

// Problem reads the brief and narrows it. Objectives are named as in shedspace.New.
func (s Subspace) Problem(objectives ...string) (*shedspace.Problem, error) {
	b, err := brief.ReadFS(briefs.FS, s.Brief+".yaml")
	if err != nil {
		return nil, err
	}
	own := *b
	own.Freedoms.Stock = map[brief.Group]brief.Stock{}
	own.Proposal.Sections = maps.Clone(b.Proposal.Sections)
	s.narrow(&own)
	return shedspace.New(&own, objectives...)
}

// stocks leaves a group only some sections.
func stocks(b *brief.Brief, list map[brief.Group][]string) {
	for g, names := range list {
		b.Freedoms.Stock[g] = brief.Stock{Sections: names}
	}
}

// drawn adds sections to the proposal, for groups that its drawing does not show.
func drawn(b *brief.Brief, list map[brief.Group]string) {
	for g, name := range list {
		s := b.Proposal.Sections[brief.GroupColumn]
		s.Section, s.Grade = name, ""
		if sec, err := b.Library().Find(name); err == nil {
			s.Grade = sec.Grades[0].Name
		}
		b.Proposal.Sections[g] = s
	}
}

// fixed takes away the freedoms of layout: bracing stays as the proposal has it, no props come or go, spacings stay.
func fixed(b *brief.Brief) {
	f := &b.Freedoms
	f.Spacings, f.FlyBraces, f.Struts = false, false, false
	f.Props.Add, f.Props.LeaveOut, f.Props.MaxLines = false, false, len(b.Proposal.Props)
	f.Bracing.MaxBays, f.Bracing.Roof = 0, []brief.Pattern{brief.CrossedRods}
}

var (
	smallFrames  = []string{"125x75x5.0RHS", "125x75x6.0RHS", "150x100x5.0RHS", "150x100x6.0RHS", "200x100x5.0RHS", "200x100x6.0RHS", "250x150x5.0RHS"}
	smallStruts  = []string{"40x40x3.0SHS", "50x50x3.0SHS", "65x65x3.0SHS", "75x75x3.0SHS"}
	smallProps   = []string{"50x50x5.0SHS", "65x65x4.0SHS", "75x75x4.0SHS"}
	smallMullion = []string{"75x50x4.0RHS", "100x50x4.0RHS", "100x50x5.0RHS", "125x75x4.0RHS"}
)

// bracedKit is the kit with bracing on both long walls and all struts: its drawing has none.
func bracedKit(b *brief.Brief) {
	b.Proposal.Struts = brief.Struts{Eaves: true, Ridge: true, Nodes: true}
	b.Proposal.WallBracing = []brief.WallPanel{
		{Wall: brief.South, Bay: 2, Pattern: brief.CrossedRods}, {Wall: brief.North, Bay: 1, Pattern: brief.CrossedRods},
	}
	drawn(b, map[brief.Group]string{brief.GroupEavesStrut: "50x50x3.0SHS", brief.GroupNodeStrut: "50x50x3.0SHS", brief.GroupWallRod: "R16"})
	fixed(b)
}

// Subspaces are the spaces on which the search is held to the proven front, smallest first for each brief.
func Subspaces() []Subspace {
	rods := []string{"R16", "R20"}
	return []Subspace{
		{"kit, frames", "kit", func(b *brief.Brief) {
			bracedKit(b)
			b.Freedoms.OneOuterSize = false
			stocks(b, map[brief.Group][]string{
				brief.GroupColumn: smallFrames, brief.GroupRafter: smallFrames, brief.GroupMullion: smallMullion[1:2],
				brief.GroupEavesStrut: smallStruts[:2], brief.GroupWallRod: rods[:1], brief.GroupRoofRod: rods[:1],
			})
		}},
		{"kit, sections", "kit", func(b *brief.Brief) {
			bracedKit(b)
			b.Freedoms.OneOuterSize = false
			stocks(b, map[brief.Group][]string{
				brief.GroupColumn: smallFrames, brief.GroupRafter: smallFrames, brief.GroupMullion: smallMullion[:3],
				brief.GroupEavesStrut: smallStruts, brief.GroupWallRod: rods, brief.GroupRoofRod: rods,
			})
		}},
		{"kit, sections and spacings", "kit", func(b *brief.Brief) {
			bracedKit(b)
			b.Freedoms.OneOuterSize, b.Freedoms.Spacings = false, true
			stocks(b, map[brief.Group][]string{
				brief.GroupColumn: smallFrames, brief.GroupRafter: smallFrames, brief.GroupMullion: smallMullion,
				brief.GroupEavesStrut: smallStruts, brief.GroupWallRod: rods, brief.GroupRoofRod: rods,
			})
		}},
		{"kit, sections, spacings and props", "kit", func(b *brief.Brief) {
			bracedKit(b)
			f := &b.Freedoms
			f.OneOuterSize, f.Spacings = false, true
			f.Props.Add, f.Props.LeaveOut, f.Props.MaxLines, f.Props.Step = true, true, 1, 1.2
			stocks(b, map[brief.Group][]string{
				brief.GroupColumn: smallFrames, brief.GroupRafter: smallFrames, brief.GroupMullion: smallMullion[:2], brief.GroupProp: smallProps,
				brief.GroupEavesStrut: smallStruts[:3], brief.GroupWallRod: rods[:1], brief.GroupRoofRod: rods,
			})
		}},
		{"barn, frames", "barn", func(b *brief.Brief) {
			bracedBarn(b)
			stocks(b, map[brief.Group][]string{
				brief.GroupColumn: barnColumns[:5], brief.GroupRafter: barnRafters[:4], brief.GroupMullion: barnMullions[1:3],
				brief.GroupEavesStrut: barnStruts[:2], brief.GroupWallRod: rods[:1], brief.GroupRoofRod: rods[:1],
			})
		}},
		{"barn, sections", "barn", func(b *brief.Brief) {
			bracedBarn(b)
			stocks(b, map[brief.Group][]string{
				brief.GroupColumn: barnColumns[:5], brief.GroupRafter: barnRafters[:4], brief.GroupMullion: barnMullions[:3],
				brief.GroupEavesStrut: barnStruts[:3], brief.GroupWallRod: rods, brief.GroupRoofRod: rods,
			})
		}},
		{"barn, sections, spacings and fly braces", "barn", func(b *brief.Brief) {
			bracedBarn(b)
			b.Freedoms.Spacings, b.Freedoms.FlyBraces = true, true
			stocks(b, map[brief.Group][]string{
				brief.GroupColumn: barnColumns, brief.GroupRafter: barnRafters, brief.GroupMullion: barnMullions[:3],
				brief.GroupEavesStrut: barnStruts[:3], brief.GroupWallRod: rods, brief.GroupRoofRod: rods,
			})
		}},
		{"packhouse, frames", "packhouse", func(b *brief.Brief) {
			bracedPackhouse(b, 8.1, 8.1)
			stocks(b, map[brief.Group][]string{
				brief.GroupColumn: bigFrames, brief.GroupRafter: bigFrames, brief.GroupMullion: {"200x100x4.0RHS"},
				brief.GroupProp: {"125x125x5.0SHS"}, brief.GroupBeam: {"230PFC25.1"}, brief.GroupPost: {"89x89x3.5SHS"}, brief.GroupWallDiagonal: {"100x100x3.0SHS"},
				brief.GroupEavesStrut: {"75x75x3.0SHS", "89x89x3.5SHS"}, brief.GroupWallRod: {"R20"}, brief.GroupRoofRod: {"R16"},
			})
		}},
		{"packhouse, sections", "packhouse", func(b *brief.Brief) {
			bracedPackhouse(b, 8.1, 8.1)
			stocks(b, packhouseStock)
		}},
		{"packhouse, sections and props", "packhouse", func(b *brief.Brief) {
			bracedPackhouse(b, 7.2, 8.7)
			stocks(b, packhouseStock)
		}},
	}
}

var (
	barnColumns  = []string{"310UB40.4", "310UB46.2", "360UB44.7", "360UB50.7", "360UB56.7", "410UB53.7"}
	barnRafters  = []string{"250UB31.4", "310UB32.0", "310UB40.4", "360UB44.7", "360UB50.7"}
	barnMullions = []string{"180UB22.2", "200UB22.3", "200UB25.4"}
	barnStruts   = []string{"90x90x3.0SHS", "100x100x3.0SHS", "100x100x4.0SHS"}
)

// bracedBarn is the barn with the struts that its drawing lacks.
func bracedBarn(b *brief.Brief) {
	b.Proposal.Struts.Nodes = true
	fixed(b)
}

var packhouseStock = map[brief.Group][]string{
	brief.GroupColumn: bigFrames, brief.GroupRafter: bigFrames, brief.GroupMullion: {"150x100x4.0RHS", "200x100x4.0RHS"},
	brief.GroupProp: {"100x100x4.0SHS", "125x125x5.0SHS"}, brief.GroupBeam: {"200PFC22.9", "230PFC25.1"}, brief.GroupPost: {"75x75x4.0SHS", "89x89x3.5SHS"},
	brief.GroupEavesStrut: {"65x65x3.0SHS", "75x75x3.0SHS", "89x89x3.5SHS"}, brief.GroupWallRod: {"R16", "R20"}, brief.GroupRoofRod: {"R16", "R20"},
	brief.GroupWallDiagonal: {"100x100x3.0SHS"},
}

var bigFrames = []string{"250x150x5.0RHS", "250x150x6.0RHS", "300x200x6.0RHS", "300x200x8.0RHS", "350x250x6.0RHS", "350x250x8.0RHS", "400x200x8.0RHS", "400x300x8.0RHS"}

// bracedPackhouse is the packhouse with the links that its drawing lacks and its line of props between two places (m).
func bracedPackhouse(b *brief.Brief, from, to brief.Length) {
	b.Proposal.Struts = brief.Struts{Eaves: true, Ridge: true, Nodes: true}
	b.Proposal.WallBracing = append(slices.Clip(b.Proposal.WallBracing), brief.WallPanel{Wall: brief.North, Bay: 1, Pattern: brief.SingleStrut, Rises: brief.East})
	drawn(b, map[brief.Group]string{brief.GroupWallDiagonal: "100x100x3.0SHS"})
	fixed(b)
	b.Freedoms.Props.Windows = []brief.Range{{from, to}}
}
