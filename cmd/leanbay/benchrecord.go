package main

import (
	"fmt"
	"math"
	"strings"

	"leanbay/experiments/suites"
)

// command returns the options that give a's figures again, those at their defaults left out.
func (o benchSearchOptions) command() string {
	words := []string{"leanbay bench search"}
	add := func(when bool, format string, args ...any) {
		if when {
			words = append(words, fmt.Sprintf(format, args...))
		}
	}
	add(len(o.functions) > 0, "--functions %s", strings.Join(o.functions, ","))
	add(true, "--evaluations %s", strings.Trim(strings.ReplaceAll(fmt.Sprint(o.evaluations), " ", ","), "[]"))
	add(true, "--population %d --seeds %d --sizing %d", o.population, o.seeds, o.sizing)
	add(len(o.problems) > 0, "--problems %s", strings.Join(o.problems, ","))
	add(len(o.sheds) > 0, "--sheds %s --shed-evaluations %d", strings.Join(o.sheds, ","), o.shedLimit)
	add(o.ablation, "--ablation")
	add(o.compare, "--compare")
	return strings.Join(append(words, "--record "+o.record), " ")
}

// markdown sets out the figures as tables.
func (o benchSearchOptions) markdown(a benchSearchAnswer) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# The search, measured\n\nWritten by `%s`. Seeds 1 to %d; the same seeds give the same figures with any number of workers.\n", o.command(), o.seeds)
	if len(a.Functions) > 0 {
		fmt.Fprintf(&b, "\n## Fronts of functions\n\nHypervolume up to %g in every objective: least, median and greatest over the seeds. A population of 100 points cannot\nreach the volume of the whole true front, which has no end of points.\n\n", suites.Reference)
		b.WriteString("| function | method | evaluations | population | | | all found | | | true front |\n|---|---|---|---|---|---|---|---|---|---|\n")
		for _, r := range a.Functions {
			p, f := r.Population, r.Archive
			fmt.Fprintf(&b, "| %s | %s | %d | %.4f | %.4f | %.4f | %.4f | %.4f | %.4f | %.4f |\n", r.Function, r.Method, r.Evaluations, p.Least, p.Median, p.Greatest, f.Least, f.Median, f.Greatest, r.True)
		}
	}
	if len(a.Sizing) > 0 {
		b.WriteString("\n## Discrete sizing\n\nRuns that found the published best; mass found and distinct designs analysed up to it: least, median and greatest over\nthe seeds. Problems, units and sources are in `experiments/sizing/data`.\n\n")
		b.WriteString("| problem | method | published | limit | hits | mass | | | to best | | |\n|---|---|---|---|---|---|---|---|---|---|---|\n")
		for _, r := range a.Sizing {
			mass, to := r.Masses()
			m, e := suites.SpreadOf(mass), suites.SpreadOf(to)
			fmt.Fprintf(&b, "| %s | %s | %.2f | %d | %d of %d | %s | %s | %s | %.0f | %.0f | %.0f |\n",
				r.Problem, r.Method, r.Published, r.Limit, r.Hits(), len(r.Runs), massText(m.Least), massText(m.Median), massText(m.Greatest), e.Least, e.Median, e.Greatest)
		}
	}
	if len(a.Sheds) > 0 {
		b.WriteString("\n## Sheds\n\nLightest design that complies (kg), evaluations up to it, and hypervolume of the front (kg times utilisation) up to the\nreference: least, median and greatest over the seeds that found one. Every search uses all its evaluations.\n\n")
		b.WriteString("| brief | search | found | lightest | | | after | | | hypervolume | | | reference |\n|---|---|---|---|---|---|---|---|---|---|---|---|---|\n")
		for _, r := range a.Sheds {
			fmt.Fprintf(&b, "| %s | %s | %d of %d | %s | %.0f kg, %.2f |\n", r.Brief, r.Search(), r.Found, r.Seeds, strings.Join(shedFigures(r), " | "), r.Reference[0], r.Reference[1])
		}
	}
	fmt.Fprintf(&b, "\n%s\n", a.Caution)
	return b.String()
}

// massText is a mass, or that there was no feasible design.
func massText(m float64) string {
	if math.IsInf(m, 1) {
		return "none"
	}
	return fmt.Sprintf("%.2f", m)
}
