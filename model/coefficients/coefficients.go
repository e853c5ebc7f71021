// Package coefficients reads the certifier's own coefficients for all codes at once.
//
// In: one YAML file of names with value and reason. Out: the coefficients of actions, of steel and of cold-formed steel in
// force, and the file's hash. It knows no shed and no check.
package coefficients

import (
	"fmt"
	"strings"

	"leanbay/model/actions/asnzs1170"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/checks/asnzs4600"
)

// Set are the coefficients in force. Actions is nil for none of the certifier's own; the other two are always there.
type Set struct {
	Actions    *asnzs1170.Overrides
	Steel      *as4100.Rules
	ColdFormed *asnzs4600.Code
}

// Digest is the hash of the certifier's file, "" for none. It goes into every result.
func (s *Set) Digest() string { return s.Actions.Digest() }

// Row is one coefficient that a file can set.
type Row struct {
	Name, Clause, Mark string
	Value              float64
}

// coldPrefix marks the names of AS/NZS 4600; coldName makes one of a row's own words.
const coldPrefix = "asnzs4600."

var words = strings.NewReplacer(" ", "-", ",", "", ":", "", "/", "-")

func coldName(c asnzs4600.Coefficient) string {
	return coldPrefix + strings.ToLower(words.Replace(c.Name))
}

// Rows lists the coefficients of the checks, with the values in force; those of actions are asnzs1170's own table. Strengths
// are in Pa.
func (s *Set) Rows() []Row {
	var out []Row
	for _, c := range s.Steel.Coefficients() {
		out = append(out, Row{c.Name, c.Clause, c.Mark, c.Value})
	}
	for _, c := range s.ColdFormed.Coefficients() {
		out = append(out, Row{coldName(c), c.Clause, c.Mark, c.Value})
	}
	return out
}

// Standard are the codes' own coefficients.
func Standard() *Set { return &Set{Steel: as4100.NewRules(), ColdFormed: asnzs4600.New()} }

// Read reads the certifier's file; name is used in messages. nil content is none. The form is that of
// asnzs1170.ReadOverrides, with the names of all codes; every mistake is reported with file, line and column.
func Read(name string, content []byte) (*Set, error) {
	s := Standard()
	if content == nil {
		return s, nil
	}
	var known []string
	cold := map[string]string{}
	for _, r := range s.Rows() {
		known = append(known, r.Name)
	}
	for _, c := range s.ColdFormed.Coefficients() {
		cold[coldName(c)] = c.Name
	}
	var err error
	if s.Actions, err = asnzs1170.ReadOverrides(name, content, known...); err != nil {
		return nil, err
	}
	for _, e := range s.Actions.Others {
		if own, ok := cold[e.Name]; ok {
			err = s.ColdFormed.Override(own, e.Value, e.Reason)
		} else {
			err = s.Steel.Override(e.Name, e.Value, e.Reason)
		}
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, e.Line, err)
		}
	}
	return s, nil
}
