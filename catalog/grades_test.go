package catalog

import (
	"errors"
	"strings"
	"testing"
)

// TestGrades: yields by thickness, in MPa, as the rules print them (AS/NZS 3679.1 grade 300: 320 below 11 mm, 300 from 11
// to 17, 280 above, rounds up to 50 mm 300; AS/NZS 1163; AS 1397 with AS/NZS 4600 1.5.1.4).
func TestGrades(t *testing.T) {
	for _, c := range []struct {
		section, ask, name string
		fy, fyw, fu        float64
	}{
		{"200x100x5RHS", "", "C350L0", 350, 350, 430},
		{"200x100x5RHS", "c450", "C450L0", 450, 450, 500},
		{"114.3x4.5CHS", "C250 L0", "C250L0", 250, 250, 320},
		{"460UB82.1", "300", "300", 300, 320, 440},       // tf 16.0, tw 9.9
		{"410UB53.7", "Grade 300", "300", 320, 320, 440}, // tf 10.9, tw 7.6
		{"380PFC", "", "300", 280, 320, 440},             // tf 17.5, tw 10
		{"150x150x12EA", "", "300", 300, 300, 440},
		{"100x100x10EA", "", "300", 320, 320, 440}, // actual 9.5
		{"R30", "", "300", 300, 300, 440},
		{"R30", "250", "250", 250, 250, 410},
		{"C10010", "", "G550", 550, 550, 550},
		{"C10012", "", "G500", 500, 500, 520},
		{"Z10015", "g450", "G450", 450, 450, 480},
	} {
		s, err := Find(c.section)
		if err != nil {
			t.Fatal(err)
		}
		g, err := s.Grade(c.ask)
		if err != nil {
			t.Errorf("%s %q: %v", c.section, c.ask, err)
			continue
		}
		if g.Name != c.name || g.Fy != c.fy*1e6 || g.FyW != c.fyw*1e6 || g.Fu != c.fu*1e6 {
			t.Errorf("%s %q: got %+v, want %s %g %g %g", c.section, c.ask, g, c.name, c.fy, c.fyw, c.fu)
		}
	}
	s, err := Find("R16")
	if err != nil {
		t.Fatal(err)
	}
	for _, ask := range []string{"C350L0", "grade", "-", "L0"} {
		_, err := s.Grade(ask)
		var e *UnknownGradeError
		if !errors.As(err, &e) || strings.Join(e.Known, " ") != "300 250" {
			t.Errorf("R16 grade %q: %v; want an *UnknownGradeError with 300 and 250", ask, err)
		}
	}
}

// TestGradeLimits: both sides of every limit of thickness.
func TestGradeLimits(t *testing.T) {
	for _, c := range []struct {
		family Family
		grade  string
		t, fy  float64 // mm, MPa
	}{
		{PFC, "300", 10.99, 320}, {PFC, "300", 11, 300}, {PFC, "300", 17, 300}, {PFC, "300", 17.01, 280},
		{Rod, "300", 50, 300}, {Rod, "300", 50.5, 280},
		{C, "G550", 0.59, 412.5}, {C, "G550", 0.6, 495}, {C, "G550", 0.89, 495}, {C, "G550", 0.9, 550}, {C, "G550", 1, 550},
	} {
		d := Dims{D: mm(c.t), T: mm(c.t), Tf: mm(c.t), Tw: mm(c.t)}
		if g, ok := gradeOf(c.family, d, c.grade); !ok || g.Fy != c.fy*1e6 {
			t.Errorf("%s %s t = %g mm: fy %g MPa, want %g", c.family, c.grade, c.t, g.Fy/1e6, c.fy)
		}
	}
	for thick, want := range map[float64]string{0.75: "G550", 1: "G550", 1.2: "G500", 1.49: "G500", 1.5: "G450", 3: "G450"} {
		if got := coldFormedGrade(thick); got != want {
			t.Errorf("AS 1397 at %g mm: %s, want %s", thick, got, want)
		}
	}
}

func TestPlates(t *testing.T) {
	ps := Plates()
	if len(ps) != 28 {
		t.Fatalf("%d plates, want 28", len(ps))
	}
	// 10 mm plate weighs 78.5 kg/m2 (7850 kg/m3 by 0.01 m)
	for _, p := range ps {
		near(t, p.Product+" mass", p.Mass(), 7850*p.T, 1e-12)
		if p.Grade.Fy <= 0 || p.Grade.Fu < p.Grade.Fy || p.T <= 0 || p.Standard == "" || p.Grade.Mark != FromMemory {
			t.Errorf("plate %+v", p)
		}
	}
}
