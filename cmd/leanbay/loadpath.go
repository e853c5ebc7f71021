package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"leanbay/model/shed"
	"leanbay/optimize/shedspace"
	"leanbay/plots/drawings"
	"leanbay/solver"
)

// printLoadPaths prints the path of the force along the building through a design, the hardest push each way, and draws it
// into dir unless that is empty.
func printLoadPaths(w io.Writer, p *shedspace.Problem, d *shed.Design, dir string) error {
	paths, err := p.LoadPaths(d)
	if err != nil {
		return badInput(err)
	}
	for i := range paths {
		printLoadPath(w, &paths[i])
		if dir == "" {
			continue
		}
		if err := os.MkdirAll(dir, 0o777); err != nil {
			return badInput(err)
		}
		name := filepath.Join(dir, "load-path-"+pathNames[[2]bool{paths[i].Across, paths[i].Forward}]+".svg")
		if err := os.WriteFile(name, drawings.LoadPath(&paths[i]), 0o666); err != nil {
			return badInput(err)
		}
		fmt.Fprintf(w, "Drawn in %s\n\n", filepath.ToSlash(name))
	}
	fmt.Fprintf(w, "Yardstick: the least brace steel that any layout could need for these forces, at full stress, buckling left out\n")
	yards, err := p.Yardsticks(d, paths)
	if err != nil {
		return badInput(err)
	}
	for _, y := range yards {
		fmt.Fprintf(w, "  %s\n", y.String())
	}
	_, err = fmt.Fprintf(w, "\n%s\n", solver.Caution)
	return err
}

// pathNames end the names of files by whether the path is across the building and forward.
var pathNames = map[[2]bool]string{{false, true}: "east", {false, false}: "west", {true, true}: "north", {true, false}: "south"}

// printLoadPath prints one way's table, step by step from the gable to the ground.
func printLoadPath(w io.Writer, l *shedspace.LoadPath) {
	fmt.Fprintf(w, "Force %s the building %s\n", map[bool]string{true: "across", false: "along"}[l.Across], l)
	if l.Trouble != "" {
		fmt.Fprintf(w, "  no forces: %s\n\n", l.Trouble)
		return
	}
	for _, step := range shedspace.Steps {
		links := l.Of(step)
		if len(links) == 0 {
			continue
		}
		fmt.Fprintf(w, "  %s\n", step)
		for _, k := range links {
			fmt.Fprintf(w, "    %-38s %s\n", k.Member, linkText(&k, l.Axis()))
		}
	}
	fmt.Fprintln(w)
}

// printPlaces says bay by bay which bracing walls and gables can take.
func printPlaces(w io.Writer, s *shed.Shed) error {
	for side, name := range shed.PlaneNames {
		fmt.Fprintf(w, "The %s\n", name)
		for _, t := range s.Explain(side) {
			printLines(w, t)
		}
		fmt.Fprintln(w)
	}
	fmt.Fprintf(w, "The roof\n")
	printLines(w, fmt.Sprintf("nothing stands in its plane: each of the bays 1 to %d can take crossed rods, single diagonals or a zig-zag between its struts", len(s.Frames)-1))
	fmt.Fprintln(w)
	printLines(w, fmt.Sprintf("Braces keep %.0f mm from openings and floor edges. A place that is free is not yet a brace that is strong enough; leanbay draw shows each place.", s.BraceClearance()*1e3))
	_, err := fmt.Fprintf(w, "\n%s\n", solver.Caution)
	return err
}

// linkText says what a link carries.
func linkText(k *shedspace.Link, axis string) string {
	switch {
	case k.Step == shedspace.StepHeads || k.Step == shedspace.StepFrames:
		return fmt.Sprintf("%8.2f kN along %s", k.Axial/1e3, axis)
	case k.Step == shedspace.StepFeet:
		way := "pull on the footing"
		if k.Uplift < 0 {
			way = "press on the footing"
		}
		return fmt.Sprintf("%8.2f kN along %s, %.2f kN %s", k.Axial/1e3, axis, max(k.Uplift, -k.Uplift)/1e3, way)
	}
	text := fmt.Sprintf("%8.2f kN", k.Axial/1e3)
	switch {
	case k.Axial > 0:
		text += " pull"
	case k.Axial < 0:
		text += " push"
	default:
		text += " slack"
	}
	if k.Moment != 0 {
		text += fmt.Sprintf(", %.2f kN·m in the wall's plane", max(k.Moment, -k.Moment)/1e3)
	}
	return text
}

// printAssumptions says which of the main assumptions decide.
func printAssumptions(w io.Writer, p *shedspace.Problem, d *shed.Design) error {
	list, err := p.Assumptions(d)
	if err != nil {
		return badInput(err)
	}
	fmt.Fprintf(w, "As it is: %s, greatest utilisation %.2f, %d checks fail\n", list[0].Verdict, list[0].U, list[0].Failing)
	for _, a := range list[1:] {
		word := "does not decide"
		if a.Decides {
			word = "decides"
		}
		fmt.Fprintf(w, "  %-15s  %s; if %s: %s, %.2f, %d fail\n", word, a.Taken, a.Otherwise, a.Verdict, a.U, a.Failing)
	}
	_, err = fmt.Fprintf(w, "\n%s\n", solver.Caution)
	return err
}
