package shed

import (
	"math"
	"testing"

	"leanbay/model/brief"
	"leanbay/solver"
)

// TestBeamsUnderFloors: joists of a floor that is a diaphragm hold the top flange of the beams that carry them, at their
// spacing and no more; where it is none they only load it. Posts between two beams take half the eccentricity of end ones,
// and cleats put it 100 mm off the face.
func TestBeamsUnderFloors(t *testing.T) {
	s, d := packhouse(t)
	look := func() (held int, loads float64, middle, end float64) {
		m := s.Build(d)
		for i := range m.Structure.Members {
			mem := &m.Structure.Members[i]
			switch mem.ID {
			case "beam/office/Y4.40/X0.00-4.90":
				loads = mem.TopLoads
				for _, r := range mem.Restraints {
					if r.Kind == solver.RestraintL && r.Flange == solver.TopFlange {
						held++
					}
				}
			case "post/X4.90/Y4.40":
				middle = mem.EndEccentricity
			case "post/X0.00/Y4.40":
				end = mem.EndEccentricity
			}
		}
		return
	}
	held, loads, middle, end := look()
	if held != 10 || loads != 0.45 { // 4.9 m at 0.45 m, none within 150 mm of the end
		t.Errorf("%d joists hold the beam, loads every %g m; by the drawing 10 and 0.45", held, loads)
	}
	if math.Abs(end-0.0445) > 1e-9 || math.Abs(middle-0.0445/2) > 1e-9 {
		t.Errorf("posts' eccentricities %g and %g m; half of 89 mm at the ends, half of that between beams", end, middle)
	}
	s.Mezzanines[0].Diaphragm = false
	s.brief.Proposal.Details.BeamEnd = &brief.Detail{Kind: "cleat"}
	defer func() { s.brief.Proposal.Details.BeamEnd = nil }()
	if held, loads, _, end = look(); held != 0 || loads != 0.45 || math.Abs(end-0.1445) > 1e-9 {
		t.Errorf("no diaphragm, cleats: %d hold, loads every %g m, eccentricity %g m", held, loads, end)
	}
}
