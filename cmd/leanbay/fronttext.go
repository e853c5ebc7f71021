package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"leanbay/experiments/runs"
)

// mostRows is the number of variants listed on the screen; the file has them all.
const mostRows = 24

// printFront shows the front as an engineer reads it: what was drawn, the named points, the list.
func printFront(w io.Writer, f *runs.Front) {
	fmt.Fprintf(w, "%s: %d variants on the front after %d evaluations in %d generations, seed %d\n",
		f.Brief, len(f.Variants), f.Evaluations, f.Generations, f.Seed)
	fmt.Fprintf(w, "The search ended: %s.\n", f.StoppedText)
	if f.Tiers != "" {
		fmt.Fprintln(w, f.Tiers)
	}
	if f.Proof != nil {
		fmt.Fprintln(w, f.Proof.Text)
	}
	fmt.Fprintln(w)
	fmt.Fprintf(w, "  %-22s %7.0f kg  %s%s\n", "as drawn", f.Proposal.Mass, utilisationText(&f.Proposal), figuresText(f, &f.Proposal))
	if f.Braced != nil {
		fmt.Fprintf(w, "  %-22s %7.0f kg  %s%s\n", "drawn and braced", f.Braced.Mass, utilisationText(f.Braced), figuresText(f, f.Braced))
	}
	if len(f.Points) == 0 {
		fmt.Fprintf(w, "\nNo compliant variant was found. Widen the freedoms, or search longer with --generations.\n")
	}
	for _, name := range []string{"lightest", "reserve_5", "knee"} {
		v := f.Variant(f.Points[name])
		if v == nil {
			continue
		}
		saved := ""
		if f.Braced != nil {
			saved = fmt.Sprintf("  %+.1f %% against drawn and braced", 100*(v.Mass/f.Braced.Mass-1))
		}
		fmt.Fprintf(w, "  %-22s %7.0f kg  %s%s\n", strings.ReplaceAll(name, "_5", " of 5 %"), v.Mass, utilisationText(&v.Scores), figuresText(f, &v.Scores)+settledText(v)+saved)
		if v.Review != nil {
			fmt.Fprintf(w, "  %-22s %10s  %s\n", "", "", v.Review.Text())
			if r := v.Review.WindReserve; r != nil {
				fmt.Fprintf(w, "  %-22s %10s  wind: %s\n", "", "", r.Text)
			}
		}
	}
	for _, fig := range f.Further() {
		if v := f.Best(fig); v != nil && fig.Chosen {
			fmt.Fprintf(w, "  %-22s %7.0f kg  %s%s\n", fig.BestName(), v.Mass, utilisationText(&v.Scores), figuresText(f, &v.Scores))
		}
	}
	printVariants(w, f)
	printFigures(w, f)
	if v := f.Variant(f.Points["lightest"]); v != nil {
		fmt.Fprintf(w, "\nThe lightest that complies:\n")
		for _, k := range slices.Sorted(maps.Keys(v.Design)) {
			fmt.Fprintf(w, "  %-18s %s\n", k, v.Design[k])
		}
		printYardsticks(w, v.Review)
	}
}

// printYardsticks measures a variant's bracing, where that was asked.
func printYardsticks(w io.Writer, r *runs.Review) {
	if r == nil || len(r.Bracing) == 0 {
		return
	}
	fmt.Fprintf(w, "\nIts bracing beside the least that any layout could need at full stress, buckling left out:\n")
	for _, y := range r.Bracing {
		printLines(w, y.Text)
	}
}

// printExplain says what the front has in common and what it trades.
func printExplain(w io.Writer, f *runs.Front) {
	if f.Explain == nil {
		return
	}
	fmt.Fprintln(w, "\nWhat the front says:")
	for _, t := range f.Explain.Text {
		fmt.Fprintf(w, "  - %s\n", t)
	}
}

// printVariants lists the front: what complies, then apart from it what nearly does.
func printVariants(w io.Writer, f *runs.Front) {
	var good, near []*runs.Variant
	reviewed := false
	for i := range f.Variants {
		v := &f.Variants[i]
		reviewed = reviewed || v.Review != nil
		if v.Complies {
			good = append(good, v)
		} else {
			near = append(near, v)
		}
	}
	if len(good) > 0 {
		variantRows(w, fmt.Sprintf("%d that comply", len(good)), f.Further(), good, mostRows, reviewed)
		if reviewed {
			printLines(w, runs.TagsText+" Reserve: the factor on the site wind speed up to which all passes.")
		}
	}
	if len(near) > 0 {
		variantRows(w, fmt.Sprintf("%d that do not comply, by up to a quarter", len(near)), f.Further(), near, mostRows/3, false)
	}
}

// settledText marks what no single or paired step improves.
func settledText(v *runs.Variant) string {
	if v.Settled {
		return ", locally optimal"
	}
	return ""
}

// figuresText lists a design's figures beside mass and utilisation, where it has them.
func figuresText(f *runs.Front, s *runs.Scores) string {
	out := ""
	for _, fig := range f.Further() {
		if _, ok := s.Objectives[fig.Name]; ok {
			out += ", " + fig.Say(s)
		}
	}
	return out
}

// printFigures says what the figures beside mass and utilisation are, and which prices costs go by.
func printFigures(w io.Writer, f *runs.Front) {
	for _, fig := range f.Further() {
		text := fig.Name + ": " + fig.Text
		if fig.Limit > 0 {
			text += fmt.Sprintf("; limited to %g", fig.Limit)
		}
		printLines(w, text+".")
	}
	if f.Prices != nil {
		star := ""
		if f.Prices.Mark != "" {
			star = "* "
		}
		printLines(w, star+f.Prices.Text)
	}
}

// variantRows lists variants with their figures, at most some of them.
func variantRows(w io.Writer, title string, figures []runs.Figure, list []*runs.Variant, most int, reviewed bool) {
	fmt.Fprintf(w, "\n%s\n  %9s  %11s  ", title, "mass kg", "utilisation")
	for _, fig := range figures {
		fmt.Fprintf(w, "%*s  ", len(fig.Head()), fig.Head())
	}
	if reviewed {
		fmt.Fprintf(w, "%-9s %7s  ", "what-ifs", "reserve")
	}
	settled := slices.ContainsFunc(list, func(v *runs.Variant) bool { return v.Settled })
	if settled {
		fmt.Fprintf(w, "%-7s  ", "optimal")
	}
	fmt.Fprintf(w, "%-34s %-26s %s\n", "governed by", "member", "combination")
	for i, v := range list {
		if i == most {
			fmt.Fprintf(w, "  … and %d more in %s\n", len(list)-most, runs.FrontFile)
			return
		}
		fmt.Fprintf(w, "  %9.0f  %11.3f  ", v.Mass, v.Utilisation)
		for _, fig := range figures {
			fmt.Fprintf(w, "%*s  ", len(fig.Head()), fig.Value(&v.Scores))
		}
		if reviewed {
			fmt.Fprint(w, reviewCells(v))
		}
		if settled {
			fmt.Fprintf(w, "%-7s  ", map[bool]string{true: "locally"}[v.Settled])
		}
		g := v.Governing
		if g == nil {
			g = &runs.Governing{}
		}
		fmt.Fprintf(w, "%-34s %-26s %s\n", g.Check+", "+g.Clause, g.Member, g.Combination)
	}
}

// reviewCells shows how a variant fares under what-ifs; blank where that was not asked.
func reviewCells(v *runs.Variant) string {
	tags, reserve := "", ""
	if v.Review != nil {
		tags = v.Review.Tags()
		if r := v.Review.WindReserve; r != nil {
			reserve = fmt.Sprintf("%.2f", r.Factor)
		}
	}
	return fmt.Sprintf("%-9s %7s  ", tags, reserve)
}

// printLines prints a paragraph in lines of a usual width.
func printLines(w io.Writer, text string) {
	line := " "
	for _, word := range strings.Fields(text) {
		if len(line)+1+len(word) > 120 {
			fmt.Fprintln(w, line)
			line = " "
		}
		line += " " + word
	}
	fmt.Fprintln(w, line)
}

// utilisationText says how a design fares.
func utilisationText(s *runs.Scores) string {
	if s.Complies {
		return fmt.Sprintf("utilisation %.3f, complies", s.Utilisation)
	}
	if s.Governing == nil || s.LambdaC == 0 {
		return s.Verdict
	}
	return fmt.Sprintf("utilisation %.3f, %s", s.Utilisation, s.Verdict)
}
