package runs

import (
	"context"
	"encoding/json"
	"testing"
)

// TestReviewWords: letters and words by hand.
func TestReviewWords(t *testing.T) {
	r := Review{
		Cases: []WhatIfAnswer{
			{What: "door open", Applies: true, Complies: true}, {What: "prop lost"},
			{What: "next terrain", Applies: true}, {What: "slack rod", Applies: true, Complies: true},
		},
		WindReserve: &WindReserve{Factor: 1.0625},
	}
	if got, want := r.Tags(), "D-tR"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := r.Text(), "complies under 2 of 3 what-ifs, not under next terrain; wind reserve 1.06"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	var none Review
	if none.Tags() != "" || none.Text() != "" {
		t.Errorf("%q, %q of nothing", none.Tags(), none.Text())
	}
}

// TestReviewedFront: every variant that complies is reviewed where all are asked, the named ones where those are; what complies
// at the site's speed has a reserve of at least 1; and one worker says what three say.
func TestReviewedFront(t *testing.T) {
	b := smallBrief(t)
	set := Settings{Seed: 2, Population: 6, Generations: 3, Evaluations: 40, Objectives: []string{"mass", "compliance"}, Review: ReviewAll}
	var texts []string
	for _, workers := range []int{1, 3} {
		set.Workers = workers
		f, err := Optimise(context.Background(), b, t.TempDir(), set, nil)
		if err != nil {
			t.Fatal(err)
		}
		good := 0
		for i := range f.Variants {
			v := &f.Variants[i]
			if v.Complies != (v.Review != nil) {
				t.Fatalf("%s: complies %v, reviewed %v", v.Key, v.Complies, v.Review != nil)
			}
			if !v.Complies {
				continue
			}
			good++
			if _, asked := v.Review.Counts(); len(v.Review.Cases) != 7 || asked == 0 || v.Review.WindReserve.Factor < 1 {
				t.Errorf("%s: %+v", v.Key, v.Review)
			}
		}
		if good == 0 {
			t.Fatal("nothing complies: the test shows nothing")
		}
		text, err := json.Marshal(f.Variants)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, string(text))
	}
	if texts[0] != texts[1] {
		t.Error("three workers say otherwise than one")
	}
	set.Review = ReviewNamed
	f, err := Optimise(context.Background(), b, t.TempDir(), set, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range f.Points {
		if v := f.Variant(key); v == nil || v.Review == nil {
			t.Errorf("%s is named and not reviewed", key)
		}
	}
}
