package catalog

import (
	"errors"
	"math"
	"strings"
	"testing"
)

const ownSections = `# our own stock
designation, family, d_mm, b_mm, f_mm, lip_mm, t_mm, tf_mm, tw_mm, ri_mm, pitch_mm, grades, fy_mpa, fyw_mpa, fu_mpa, source
Post 90, shs, 90,,,, 4,,,,,,,,, mill certificate 17
Tube, CHS, 101.6,,,, 4,,,,, C250L0,,,,
Beam, UB, 300, 150,,,, 12, 7,,, own, 355, 345, 470,
Purlin, Z, 200, 75, 70, 18, 1.2,,, 5,,,,,,
Tie, ROD, 36,,,,,,,, 4,,,,,
`

func TestLoad(t *testing.T) {
	got, err := Load(strings.NewReader(ownSections), "own.csv")
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != 5 {
		t.Fatalf("%d sections, want 5", len(got))
	}
	post, tube, beam, purlin, tie := got[0], got[1], got[2], got[3], got[4]
	if post.Mark != UserGiven || post.Source != "mill certificate 17" || post.Dims.B != 0.09 || post.Dims.Ro != 0.01 || post.Dims.Ri != 0.006 {
		t.Errorf("post: %+v", post) // above 3 mm the outer radius is 2.5 t
	}
	if tube.Source != "own.csv" || len(tube.Grades) != 1 || tube.Grades[0].Fy != 250e6 {
		t.Errorf("tube: %+v", tube)
	}
	if g := beam.Grades[0]; g != (Grade{Name: "own", Fy: 355e6, FyW: 345e6, Fu: 470e6, Mark: UserGiven}) {
		t.Errorf("beam: %+v", g)
	}
	if g := purlin.Grades[0]; g.Name != "G500" || g.Fy != 500e6 {
		t.Errorf("purlin 1.2 mm: %+v; AS 1397 rolls it in G500", g)
	}
	if g := tie.Grades[0]; g.Fy != 300e6 {
		t.Errorf("tie: %+v", g)
	}
	lib, err := Default().With(got)
	if err != nil {
		t.Fatal(err)
	}
	if s, err := lib.Find("post-90"); err != nil || s != post {
		t.Errorf("Find: %v, %v", s, err)
	}
	if _, err := Find("post 90"); err == nil {
		t.Error("the embedded library changed")
	}
	if _, err := lib.With(got[:1]); err == nil || !strings.Contains(err.Error(), "the name is taken by Post 90 (mill certificate 17)") {
		t.Errorf("same section twice: %v", err)
	}
}

// TestLoadMistakes: every mistake is told with its place.
func TestLoadMistakes(t *testing.T) {
	const head = "family,designation,d_mm,b_mm,t_mm,ro_mm,ri_mm,lip_mm,grades,fy_mpa,fu_mpa\n"
	for _, c := range []struct{ text, want string }{
		{"", "own.csv:1:1: no heading row"},
		{"family,designation\n", `own.csv:1:1: column "d_mm" is missing`},
		{"family,designation,d_mm,wall\n", `own.csv:1:25: unknown column "wall"`},
		{"family,designation,d_mm,D_mm\n", `own.csv:1:25: column "d_mm" occurs twice`},
		{head + "RHS,A,100,50\n", "RHS needs t_mm"},
		{head + "RHS,A,100,50,3,,,20\n", "own.csv:2:18: RHS has no lip_mm; leave it empty"},
		{head + "RHS,A,-100,50,3\n", "own.csv:2:7: d_mm: -100 must be above zero"},
		{head + "RHS,A,1e5,50,3\n", "own.csv:2:7: d_mm: 1e5 is more than 3000; check the unit"},
		{head + "RHS,A,NaN,50,3\n", `d_mm: "NaN" is no number`},
		{head + "RHS,A,100,50,30\n", "own.csv:2:14: A: walls 30 mm fill the side 50 mm"},
		{head + "RHS,A,100,50,3,30\n", "outer radius 30 mm is more than half the side 50 mm"},
		{head + "RHS,A,100,50,3,20,1\n", "cuts through the outer corner"},
		{head + "SHS,A,100,50,3\n", "a square section has one size"},
		{head + "RHS,A,50,100,3\n", "depth 50 mm is less than width 100 mm: x is the major axis"},
		{head + "CHS,A,100,,50\n", "wall 50 mm fills the diameter 100 mm"},
		{head + "C,A,100,50,2,,5,4\n", "own.csv:2:17: A: lip 4 mm is shorter than the bend's outer radius 7 mm"},
		{head + "C,A,100,50,2,,5,60\n", "lips 60 mm overlap in depth 100 mm"},
		{head + "RHS,A,100,50,3,,,,S355\n", `RHS has no grade "S355"; grades: C350L0, C450L0, C250L0`},
		{head + "RHS,A,100,50,3,,,,S355,355\n", "fy_mpa and fu_mpa go together"},
		{head + "RHS,A,100,50,3,,,,a/b,355,470\n", "fy_mpa needs one grade name, got 2"},
		{head + "RHS,A,100,50,3,,,,a,355,350\n", "fu_mpa 350 is below fy_mpa 355"},
		{head + "RHS,,100,50,3\n", "the section has no designation"},
		{head + "RHS,A,100,50,3\nRHS,a,100,50,4\n", `own.csv:3:5: section "a" occurs twice`},
		{head + "RHS,A,100,50,3,,,,,,,,\n", "13 fields in a row of 11 columns"},
		{head + "RHS,\"A,100\n", "own.csv:2:"},
	} {
		_, err := Load(strings.NewReader(c.text), "own.csv")
		var es InputErrors
		if !errors.As(err, &es) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v; want %q in it", c.text, err, c.want)
		}
	}
}

func FuzzLoad(f *testing.F) {
	f.Add(ownSections)
	f.Add("family,designation,d_mm,t_mm,r1_mm,r2_mm\nEA,A,50,5,3,9\n")
	f.Add("family,designation,d_mm,b_mm,t_mm,lip_mm,ri_mm\nC,A,16,16,2,8,6\n")
	f.Add("family,designation,d_mm,b_mm,tf_mm,tw_mm,r1_mm\nPFC,A,100,50,5,4,\"\n")
	f.Add("\ufefffamily,designation,d_mm,pitch_mm\nROD,A,1,0.1\n")
	f.Add("family,family\n")
	f.Fuzz(func(t *testing.T, text string) {
		sections, err := Load(strings.NewReader(text), "own.csv")
		var es InputErrors
		if err != nil {
			if !errors.As(err, &es) || len(es) == 0 {
				t.Fatalf("%T %v: want InputErrors", err, err)
			}
			return
		}
		for _, s := range sections {
			p := s.Props
			if !(p.Iw >= 0 && p.Iw < 1e3) || math.IsNaN(p.X0+p.Y0+p.BetaX+p.BetaY+p.Alpha) {
				t.Fatalf("%+v: warping, shear centre or monosymmetry", s)
			}
			// what was let in must have finite, positive properties
			for _, v := range []float64{p.A, p.Ix, p.Iy, p.Imin, p.Zx, p.Zy, p.Sx, p.Sy, p.J, p.Avx, p.Avy, p.Rmin, p.Perimeter} {
				if !(v > 0 && v < 1e3) {
					t.Fatalf("%+v: a property is %g", s, v)
				}
			}
		}
	})
}
