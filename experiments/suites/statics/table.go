package statics

import (
	"fmt"
	"io"
	"math"
	"strings"

	"leanbay/solver"
)

// TablePath is where the suite's table stands in the repository; `leanbay verify --table` writes it.
const TablePath = "experiments/suites/verification.md"

// Totals counts rows.
type Totals struct {
	Cases, Figures, Agree int
	ByRank                [3]int  // figures by Rank
	Largest               float64 // relative difference of the row that is farthest off
	LargestAt             string
}

// Count sums rows up.
func Count(rows []Row) (t Totals) {
	last := ""
	for i := range rows {
		r := &rows[i]
		if r.Case != last {
			t.Cases++
			last = r.Case
		}
		t.Figures++
		t.ByRank[r.Rank]++
		if r.Agrees {
			t.Agree++
		}
		if d := math.Abs(r.Difference); r.Want != 0 && r.Unit != "" && d > t.Largest {
			t.Largest, t.LargestAt = d, r.Case+": "+r.What
		}
	}
	return t
}

// Shown writes a value of the figure with n digits, or yes and no.
func (f *Figure) Shown(v float64, n int) string {
	switch {
	case f.Unit == "" && v == 0:
		return "no"
	case f.Unit == "":
		return "yes"
	case math.Abs(v) <= f.Small:
		return "0"
	}
	return fmt.Sprintf("%.*g", n, v)
}

// Off writes the difference of a row: relative in percent, absolute for a target of 0.
func (r *Row) Off() string {
	d := math.Abs(r.Difference)
	switch {
	case r.Problem != "":
		return "-"
	case r.Unit == "" && d == 0, d == 0:
		return "none"
	case r.Unit == "":
		return "other"
	case r.Want == 0 && d <= r.Small:
		return "none"
	case r.Want == 0:
		return fmt.Sprintf("%.2g", d)
	case d < 1e-8:
		return "< 1e-6 %"
	}
	return fmt.Sprintf("%.2g %%", 100*d)
}

// WriteTable writes rows as a Markdown document.
func WriteTable(w io.Writer, rows []Row) error {
	t := Count(rows)
	var b strings.Builder
	fmt.Fprintf(&b, "# Verification of the frame solver\n\n")
	fmt.Fprintf(&b, "Written by `leanbay verify --table > %s`. SI units: m, rad, N, N·m.\n\n", TablePath)
	fmt.Fprintf(&b, "%d cases, %d figures: %d by closed form, %d published, %d by an independent routine; %d agree within their tolerances.\n",
		t.Cases, t.Figures, t.ByRank[ClosedForm], t.ByRank[Published], t.ByRank[Independent], t.Agree)
	fmt.Fprintf(&b, "Largest difference: %.2g %% (%s).\n\n%s\n\n", 100*t.Largest, t.LargestAt, solver.Caution)
	fmt.Fprintf(&b, "| case | figure | expected | unit | difference | tolerance | rank | source |\n|---|---|---|---|---|---|---|---|\n")
	for i := range rows {
		b.WriteString(tableRow(&rows[i]))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// tableRow is one line of the table. Its first three columns and the unit depend on the suite alone.
func tableRow(r *Row) string {
	tol := "equal"
	switch {
	case r.Tol > 0 && r.Want != 0:
		tol = fmt.Sprintf("%.3g %%", 100*r.Tol)
	case r.Small > 0:
		tol = fmt.Sprintf("%.2g", r.Small)
	}
	return fmt.Sprintf("| %s | %s | %s | %s | %s | %s | %s | %s |\n", r.Case, r.What, r.Shown(r.Want, 6), r.Unit, r.Off(), tol, r.Rank, r.Source)
}
