package shed

import (
	"slices"

	"leanbay/model/actions"
	"leanbay/model/brief"
)

// propClearance is the distance that a prop's centre line keeps from the edge of a zone or floor: half the widest usual
// prop (150 mm) and a hand's width for its cladding or guard.
const propClearance = 0.150

// FromBrief reads the fixed architecture out of a valid brief.
func FromBrief(b *brief.Brief) (*Shed, error) {
	bl, site, err := Building(b)
	if err != nil {
		return nil, err
	}
	s := &Shed{
		Name: b.Name, Frames: bl.FrameLines, Span: bl.Span, EavesA: bl.EavesSouth, EavesB: bl.EavesNorth,
		Ridge: bl.Ridge, RidgeY: bl.RidgeY, Shape: bl.Shape, Building: bl, Site: site, brief: b,
	}
	for i, m := range b.Mezzanines {
		s.Mezzanines = append(s.Mezzanines, Mezzanine{
			Name: floorName(m, i), X0: float64(m.X[0]), X1: float64(m.X[1]), Y0: float64(m.Y[0]), Y1: float64(m.Y[1]),
			Level: float64(m.Level), JoistsAlongX: m.Joists != "Y", JoistSpacing: float64(m.JoistSpacing),
			Diaphragm: m.Diaphragm, PostsX: metres(m.PostsX), Floor: i,
			ShareProps: m.ShareProps, PropsOnBeams: m.PropsOnBeams,
		})
	}
	s.Mullions = [2][]float64{s.mullions(b, brief.West, b.Proposal.Mullions.West), s.mullions(b, brief.East, b.Proposal.Mullions.East)}
	s.OpenGable = [2]bool{b.Building.Open(brief.West), b.Building.Open(brief.East)}
	s.CarryMullions = b.Proposal.Mullions.Carry
	s.propZones = propZones(b, s)
	return s, nil
}

// mullions are those of the brief, sorted; an open gable has only what is drawn.
func (s *Shed) mullions(b *brief.Brief, w brief.Wall, given []brief.Length) []float64 {
	ys := metres(given)
	slices.Sort(ys)
	return ys
}

// propZones collects, frame by frame, where no prop may stand: clear zones that the frame line runs through, and doorways.
func propZones(b *brief.Brief, s *Shed) [][]interval {
	out := make([][]interval, len(s.Frames))
	for f, x := range s.Frames {
		for _, z := range b.Clear {
			if x > float64(z.X[0])-propClearance && x < float64(z.X[1])+propClearance {
				out[f] = append(out[f], interval{float64(z.Y[0]) - propClearance, float64(z.Y[1]) + propClearance})
			}
		}
		out[f] = append(out[f], doorways(b, s, f)...)
	}
	return out
}

// doorways are the stretches of a gable line that its doors need.
func doorways(b *brief.Brief, s *Shed, f int) []interval {
	gable := map[int]brief.Wall{0: brief.West, len(s.Frames) - 1: brief.East}[f]
	var out []interval
	for _, o := range b.Openings {
		if gable != "" && o.Wall == gable {
			e := o.Extent()
			out = append(out, interval{float64(e[0]) - propClearance, float64(e[1]) + propClearance})
		}
	}
	return out
}

// wallFace is the face and the eaves height of a long wall (0 south, 1 north).
func (s *Shed) wallFace(side int) (actions.Face, float64) {
	if side == 0 {
		return actions.SouthWall, s.EavesA
	}
	return actions.NorthWall, s.EavesB
}

// faceOpen says whether a wall has no cladding.
func (s *Shed) faceOpen(f actions.Face) bool {
	return slices.Contains(s.Building.OpenFaces, f)
}
