package catalog

import (
	"errors"
	"testing"
)

// TestFindSpellings tries the trade's usual spellings; the expected names are the designations of the lists.
func TestFindSpellings(t *testing.T) {
	for _, c := range []struct{ ask, want string }{
		{"200x100x5.0RHS", "200x100x5.0RHS"},
		{"RHS 200x100x5", "200x100x5.0RHS"},
		{"200 x 100 x 5 rhs", "200x100x5.0RHS"},
		{"200×100×5 RHS", "200x100x5.0RHS"},
		{"200X100X5.00 RHS", "200x100x5.0RHS"},
		{"200x100x5 mm RHS", "200x100x5.0RHS"},
		{"200*100*5", "200x100x5.0RHS"},
		{"rhs 100x100x5", "100x100x5.0SHS"},
		{"100x5 SHS", "100x100x5.0SHS"},
		{"114.3x4.5CHS", "114.3x4.5CHS"},
		{"CHS 114 x 4.5", "114.3x4.5CHS"},
		{"380 PFC", "380PFC55.2"},
		{"380pfc55.2", "380PFC55.2"},
		{"PFC 380", "380PFC55.2"},
		{"150 x 75 PFC", "150PFC17.7"},
		{"460x191 UB", "460UB82.1"},
		{"460UB82.1", "460UB82.1"},
		{"460 UB 82", "460UB82.1"},
		{"UB 460 x 82.1", "460UB82.1"},
		{"100x100x8EA", "100x100x8EA"},
		{"100 x 8 EA", "100x100x8EA"},
		{"L100x100x8", "100x100x8EA"},
		{"C15015", "C15015"},
		{"c 150 15", "C15015"},
		{"C150-15", "C15015"},
		{"150x1.5 C", "C15015"},
		{"z20024", "Z20024"},
		{"R16", "R16"},
		{"16 rod", "R16"},
		{"r 16 rod", "R16"},
	} {
		s, err := Find(c.ask)
		if err != nil {
			t.Errorf("Find(%q): %v", c.ask, err)
			continue
		}
		if s.Name != c.want {
			t.Errorf("Find(%q) = %s, want %s", c.ask, s.Name, c.want)
		}
	}
}

func TestFindUnknown(t *testing.T) {
	for _, c := range []struct {
		ask, near string // near must be the first of the nearest
		several   bool
	}{
		{"200x100x5.5RHS", "200x100x5.0RHS", false},
		{"210x100x6RHS", "200x100x6.0RHS", false},
		{"200x100x5 RSH", "200x100x5.0RHS", false},
		{"C15016", "C15015", false},
		{"390 PFC", "380PFC55.2", false},
		{"150x80 PFC", "150PFC17.7", false},
		{"200x100 RHS", "200x100x4.0RHS", true},
		{"460UB", "460UB67.1", true},
		{"100x50x3 PFC RHS", "100x50x3.0RHS", false},
		{"", "", false},
		{"NaN", "", false},
		{"1e999 RHS", "", false},
	} {
		s, err := Find(c.ask)
		var e *UnknownError
		if !errors.As(err, &e) {
			t.Errorf("Find(%q) = %v, %v; want an *UnknownError", c.ask, s, err)
			continue
		}
		if len(e.Nearest) == 0 || (c.near != "" && e.Nearest[0] != c.near) || e.Several != c.several {
			t.Errorf("Find(%q): %v; want %s first, several %v", c.ask, e, c.near, c.several)
		}
	}
}

// TestEveryNameFindsItself: every designation, also squeezed, lower case and turned about, calls its own section.
func TestEveryNameFindsItself(t *testing.T) {
	for _, s := range All() {
		for _, ask := range []string{s.Name, squeeze(s.Name), " " + s.Name + " ", string(s.Family) + " " + s.Name} {
			got, err := Find(ask)
			if err != nil || got != s {
				t.Errorf("Find(%q) = %v, %v; want %s", ask, got, err, s.Name)
			}
		}
	}
}

func FuzzFind(f *testing.F) {
	for _, s := range []string{"200x100x5.0RHS", "380 PFC", "C150 15", "", "×××", "1..2RHS", "R\xff16", "9e99x1 UB", "UB UB PFC"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, name string) {
		s, err := Find(name)
		if (s == nil) == (err == nil) {
			t.Fatalf("Find(%q) = %v, %v: want either", name, s, err)
		}
		var e *UnknownError
		if err != nil && !errors.As(err, &e) {
			t.Fatalf("Find(%q): %T, want *UnknownError", name, err)
		}
	})
}
