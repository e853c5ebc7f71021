package catalog

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"leanbay/catalog/typo"
)

// squeeze is a name without what spelling varies: capitals, no spaces, X for the multiplication sign.
func squeeze(name string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '×' || r == '✕' || r == '*':
			return 'X'
		case unicode.IsSpace(r) || r == '-' || r == '_':
			return -1
		}
		return unicode.ToUpper(r)
	}, name)
}

// words are the words by which the trade calls the families.
var words = map[string]Family{
	"RHS": RHS, "SHS": SHS, "CHS": CHS, "UB": UB, "PFC": PFC, "EA": EA, "L": EA, "ANGLE": EA, "EQUALANGLE": EA,
	"R": Rod, "ROD": Rod, "ROUND": Rod, "C": C, "CEE": C, "Z": Z, "ZED": Z,
}

// spelling is a designation taken apart: the family it names, if any, and its numbers in order.
type spelling struct {
	text    string // squeezed
	family  Family
	strange bool // holds words that name no family, or two families
	numbers []float64
}

// spell takes a designation apart.
func spell(name string) spelling {
	s := spelling{text: squeeze(name)}
	digit := func(r rune) bool { return r >= '0' && r <= '9' || r == '.' }
	// separators between numbers must survive squeezing: "150 24" is two numbers
	for _, field := range strings.FieldsFunc(strings.ToUpper(name), func(r rune) bool {
		return unicode.IsSpace(r) || strings.ContainsRune("-_×✕*/,", r)
	}) {
		for field != "" {
			n := strings.IndexFunc(field, func(r rune) bool { return !digit(r) })
			if n == 0 {
				n = strings.IndexFunc(field, digit)
				if n < 0 {
					n = len(field)
				}
				s.word(field[:n])
			} else {
				if n < 0 {
					n = len(field)
				}
				s.number(field[:n])
			}
			field = field[n:]
		}
	}
	return s
}

// word takes in a run of letters.
func (s *spelling) word(w string) {
	if w == "X" || w == "MM" {
		return
	}
	// "200X100XRHS" and the like: the multiplication sign is no part of the word
	f, ok := words[strings.Trim(w, "X")]
	switch {
	case !ok:
		s.strange = true
	case s.family != "" && s.family != f: // two families: neither counts
		s.strange, s.family = true, ""
	default:
		s.family = f
	}
}

// number takes in a run of digits and points.
func (s *spelling) number(text string) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		s.strange = true
		return
	}
	s.numbers = append(s.numbers, v)
}

// keys are the lists of numbers that call the section: those of its designation first, then the trade's shorter forms.
func (s *Section) keys() [][]float64 {
	full := spell(s.Name).numbers
	keys := [][]float64{full}
	switch {
	case (s.Family == SHS || s.Family == EA) && len(full) == 3: // 100x5 SHS
		keys = append(keys, full[1:])
	case s.Family == UB || s.Family == PFC: // 150x75 PFC
		keys = append(keys, []float64{wholeMicrons(s.Dims.D), wholeMicrons(s.Dims.B)})
	case (s.Family == C || s.Family == Z) && len(full) == 1 && full[0] >= 10000: // C150 15 and C150x1.5 for C15015
		depth, t := math.Floor(full[0]/100), math.Mod(full[0], 100)
		keys = append(keys, []float64{depth, t}, []float64{depth, t / 10})
	}
	return keys
}

// wholeMicrons is a length of m in mm without the rounding of binary fractions.
func wholeMicrons(v float64) float64 { return math.Round(v*1e6) / 1e3 }

// fit says how well numbers q call a section.
type fit int

const (
	noFit   fit = iota
	partial     // the leading numbers of the designation
	whole       // with the mass or the diameter rounded to a whole number
	exact
)

// fits compares the numbers of a query with those of the section.
func (s *Section) fits(q []float64) fit {
	if len(q) == 0 {
		return noFit
	}
	best := noFit
	for _, key := range s.keys() {
		n := len(q)
		switch {
		case slices.Equal(q, key):
			return exact
		case n < len(key) && slices.Equal(q, key[:n]):
			best = max(best, partial)
		case n == len(key) && s.roundedFit(q, key):
			best = max(best, whole)
		}
	}
	return best
}

// roundedFit accepts the whole-number mass of beams and channels (460UB82) and diameter of tubes (114x4.5CHS).
func (s *Section) roundedFit(q, key []float64) bool {
	at := -1
	switch s.Family {
	case UB, PFC:
		at = len(key) - 1
	case CHS:
		at = 0
	}
	for i := range q {
		if q[i] != key[i] && (i != at || q[i] != math.Round(key[i])) {
			return false
		}
	}
	return at >= 0
}

// UnknownError says that no section has a name, or that several could be meant, and which come nearest.
type UnknownError struct {
	Name    string
	Nearest []string
	Several bool // Nearest are all meant by the name as far as it goes
}

func (e *UnknownError) Error() string {
	near := strings.Join(e.Nearest, ", ")
	switch {
	case e.Several:
		return fmt.Sprintf("several sections are called %q: %s; give the full designation", e.Name, near)
	case near == "":
		return fmt.Sprintf("unknown section %q, and no section to compare it with", e.Name)
	}
	return fmt.Sprintf("unknown section %q; nearest: %s", e.Name, near)
}

// closeness scores how far the spelling is from the section: 0 is the same; family, sizes and letters all count.
func (q spelling) closeness(s *Section) float64 {
	letters := squeeze(s.Name)
	score := float64(typo.Distance(q.text, letters)) / float64(max(len(q.text), len(letters), 1))
	if q.family != "" && q.family != s.Family {
		score += 2
	}
	best := math.Inf(1)
	for _, key := range s.keys() {
		best = min(best, sizeGap(q.numbers, key))
	}
	return score + 3*best
}

// sizeGap is the mean difference of the numbers on a scale of ratios, at most 1 each; a missing number counts 0.3.
func sizeGap(q, key []float64) float64 {
	if len(q) == 0 || len(key) == 0 {
		return 1
	}
	n := max(len(q), len(key))
	sum := 0.3 * float64(n-min(len(q), len(key)))
	for i := range min(len(q), len(key)) {
		if q[i] <= 0 || key[i] <= 0 {
			sum++
			continue
		}
		sum += min(1, math.Abs(math.Log(q[i]/key[i])))
	}
	return sum / float64(n)
}
