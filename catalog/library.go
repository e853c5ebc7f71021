package catalog

import (
	"cmp"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"
)

// Library is a stock of sections: the embedded lists, or those with a user's own. It never changes once made, so any
// number of goroutines may use it. The sections are shared: callers must not change them.
type Library struct {
	all    []*Section // by family, then mass, then name
	byName map[string]*Section
}

// families is the order of families in every list.
var families = []Family{RHS, SHS, CHS, UB, PFC, EA, Rod, C, Z}

// Families lists the families in the order of every list.
func Families() []Family { return slices.Clone(families) }

// Default returns the library of the embedded lists.
func Default() *Library { return embedded() }

var embedded = sync.OnceValue(func() *Library {
	l := &Library{}
	for _, f := range families {
		sections, err := readEmbedded("data/" + strings.ToLower(string(f)) + ".csv")
		if err == nil {
			l, err = l.With(sections)
		}
		if err != nil {
			panic("catalog: embedded list: " + err.Error())
		}
	}
	return l
})

// readEmbedded reads one of our own lists with the sources its rows name.
func readEmbedded(name string) ([]*Section, error) {
	sources, err := readSources()
	if err != nil {
		return nil, err
	}
	raw, err := fs.ReadFile(data, name)
	if err != nil {
		return nil, err
	}
	return readSections(strings.NewReader(string(raw)), name, sources)
}

// With returns a library that holds these sections too. It fails if a name is taken; spelling does not tell names apart.
func (l *Library) With(sections []*Section) (*Library, error) {
	m := &Library{all: slices.Concat(l.all, sections), byName: make(map[string]*Section, len(l.all)+len(sections))}
	for _, s := range l.all {
		m.byName[squeeze(s.Name)] = s
	}
	for _, s := range sections {
		key := squeeze(s.Name)
		if other, taken := m.byName[key]; taken {
			return nil, fmt.Errorf("section %q (%s): the name is taken by %s (%s); choose another", s.Name, s.Source, other.Name, other.Source)
		}
		m.byName[key] = s
	}
	slices.SortStableFunc(m.all, func(a, b *Section) int {
		return cmp.Or(
			slices.Index(families, a.Family)-slices.Index(families, b.Family),
			cmp.Compare(a.Props.Mass, b.Props.Mass),
			strings.Compare(a.Name, b.Name))
	})
	return m, nil
}

// All lists every section by family, then mass, then name.
func (l *Library) All() []*Section { return slices.Clone(l.all) }

// ByFamily lists a family's sections by mass, then name.
func (l *Library) ByFamily(f Family) []*Section {
	var out []*Section
	for _, s := range l.all {
		if s.Family == f {
			out = append(out, s)
		}
	}
	return out
}

// Find returns the section of that name in any usual spelling: "200x100x5.0RHS", "RHS 200 × 100 × 5", "380 PFC",
// "460UB82", "100x8 EA", "C150 15". A name that leaves the family or the last number out is enough where one section
// fits. The error is an *UnknownError.
func (l *Library) Find(name string) (*Section, error) {
	if s, ok := l.byName[squeeze(name)]; ok {
		return s, nil
	}
	q := spell(name)
	if !q.strange {
		if found := l.matches(q); len(found) == 1 {
			return found[0], nil
		} else if len(found) > 1 {
			return nil, &UnknownError{Name: name, Nearest: names(found[:min(len(found), 8)]), Several: true}
		}
	}
	return nil, &UnknownError{Name: name, Nearest: names(l.Nearest(name, 5))}
}

// matches lists the sections that fit the spelling best.
func (l *Library) matches(q spelling) []*Section {
	best := partial
	var found []*Section
	for _, s := range l.all {
		// trade speech calls square sections RHS too
		if q.family != "" && q.family != s.Family && !(q.family == RHS && s.Family == SHS) {
			continue
		}
		switch f := s.fits(q.numbers); {
		case f > best:
			best, found = f, []*Section{s}
		case f == best:
			found = append(found, s)
		}
	}
	return found
}

// Nearest lists the n sections whose names, families and sizes come nearest to the name, nearest first.
func (l *Library) Nearest(name string, n int) []*Section {
	const longest = 64 // letters that can still be a designation; it bounds the work
	if len(name) > longest {
		name = name[:longest]
	}
	q := spell(name)
	score := make(map[*Section]float64, len(l.all))
	for _, s := range l.all {
		score[s] = q.closeness(s)
	}
	out := l.All()
	slices.SortStableFunc(out, func(a, b *Section) int { return cmp.Compare(score[a], score[b]) })
	return out[:min(n, len(out))]
}

// names lists the designations.
func names(sections []*Section) []string {
	out := make([]string, len(sections))
	for i, s := range sections {
		out[i] = s.Name
	}
	return out
}

// All lists the embedded sections by family, then mass, then name.
func All() []*Section { return Default().All() }

// ByFamily lists an embedded family's sections by mass, then name.
func ByFamily(f Family) []*Section { return Default().ByFamily(f) }

// Find returns the embedded section of that name in any usual spelling; see Library.Find.
func Find(name string) (*Section, error) { return Default().Find(name) }
