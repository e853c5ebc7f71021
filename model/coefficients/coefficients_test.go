package coefficients

import (
	"math"
	"strings"
	"testing"

	"leanbay/catalog"
)

const file = `# confirmed against the printed standard
wall.windward: {value: 0.75, reason: "speed at eaves height"}
as4100.phi.member: {value: 0.85, reason: "client's own factor"}
as4100.compression.both-edges.CF.yield: {value: 38, reason: "mill certificates"}
asnzs4600.phi-bending: {value: 0.80, reason: "untested section"}
`

// TestReadReachesAllCodes: one file sets actions, steel and cold-formed coefficients; capacities follow in proportion.
func TestReadReachesAllCodes(t *testing.T) {
	own, err := Read("mine.yaml", []byte(file))
	if err != nil {
		t.Fatal(err)
	}
	if len(own.Digest()) != 64 || Standard().Digest() != "" {
		t.Errorf("hashes %q and %q", own.Digest(), Standard().Digest())
	}
	sec, err := catalog.Find("200x100x5.0RHS")
	if err != nil {
		t.Fatal(err)
	}
	a, err := Standard().Steel.New(sec, sec.Grades[0])
	if err != nil {
		t.Fatal(err)
	}
	b, err := own.Steel.New(sec, sec.Grades[0])
	if err != nil {
		t.Fatal(err)
	}
	if a.Phi() != 0.9 || b.Phi() != 0.85 {
		t.Errorf("phi %g and %g", a.Phi(), b.Phi())
	}
	// 200x100x5.0RHS C350: walls 190/5 sqrt(1.4) = 44.96 > 40 along the depth only: be = 190 x 40/44.96 = 169.0, with 38: 160.6.
	lost := (190.0 - 190*38/44.96) / (190 - 190*40/44.96)
	if got := (1 - b.Kf) / (1 - a.Kf); math.Abs(got-lost) > 2e-3 {
		t.Errorf("kf lost %.4f times as much, by hand %.4f", got, lost)
	}
	marked := 0
	for _, r := range own.Rows() {
		if strings.HasPrefix(r.Mark, "certifier: ") {
			marked++
		}
	}
	if marked != 3 {
		t.Errorf("%d coefficients of the checks are marked as the certifier's, set were 3", marked)
	}
	if v := Standard().Steel.Phi(); v != 0.9 {
		t.Errorf("the code's own factor became %g", v)
	}
}

// TestReadRefuses unknown names with the nearest, and values that cannot be, with their places.
func TestReadRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"as4100.phi.membre: {value: 0.9, reason: x}":                                     `mine.yaml:1:1: no coefficient is named "as4100.phi.membre"; the nearest is "as4100.phi.member"`,
		"asnzs4600.phi-bendng: {value: 0.9, reason: x}":                                  `the nearest is "asnzs4600.phi-bending"`,
		"as4100.phi.bolt: {value: -1, reason: x}":                                        "is not positive",
		"as4100.phi.bolt: {value: 0.8}":                                                  "its reason is missing",
		"asnzs4600.phi-shear: {value: 0, reason: x}":                                     "is not positive",
		"as4100.phi.ply: {value: 0.9, reason: x}\nas4100.phi.ply: {value: 1, reason: y}": "given twice",
	} {
		if _, err := Read("mine.yaml", []byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
}

// TestNamesAreUnique over all codes.
func TestNamesAreUnique(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Standard().Rows() {
		if seen[r.Name] || strings.ContainsAny(r.Name, " ,:") {
			t.Errorf("the name %q is used twice or cannot stand in a file", r.Name)
		}
		seen[r.Name] = true
	}
	if len(seen) < 120 {
		t.Errorf("only %d coefficients have names", len(seen))
	}
}

// FuzzRead: any file ends in coefficients that are positive and marked, or in an error that names the file.
func FuzzRead(f *testing.F) {
	f.Add([]byte(file))
	f.Add([]byte("as4100.alpha-b.PFC.kf-1: {value: -0.5, reason: x}"))
	f.Add([]byte("asnzs4600.e: {value: 1e308, reason: x}\n"))
	f.Add([]byte("[]"))
	f.Fuzz(func(t *testing.T, content []byte) {
		s, err := Read("f.yaml", content)
		if err != nil {
			if !strings.Contains(err.Error(), "f.yaml") {
				t.Errorf("the error does not name the file: %v", err)
			}
			return
		}
		for _, r := range s.Rows() {
			if !(r.Value > 0) && !strings.HasPrefix(r.Name, "as4100.alpha-b.") {
				t.Errorf("%s = %g", r.Name, r.Value)
			}
		}
	})
}
