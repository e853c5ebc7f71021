package catalog_test

import (
	"fmt"
	"strings"

	"leanbay/catalog"
)

func ExampleFind() {
	s, err := catalog.Find("RHS 200 × 100 × 5")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %.1f kg/m, %s\n", s.Name, s.Props.Mass, s.Mark)
	_, err = catalog.Find("390 PFC")
	fmt.Println(err)
	// Output:
	// 200x100x5.0RHS: 22.1 kg/m, verified
	// unknown section "390 PFC"; nearest: 380PFC55.2, 300PFC40.1, 250PFC35.5, 230PFC25.1, 200PFC22.9
}

func ExampleLoad() {
	mine, err := catalog.Load(strings.NewReader("family,designation,d_mm,b_mm,t_mm\nRHS,Heavy post,150,90,6\n"), "own.csv")
	if err != nil {
		fmt.Println(err)
		return
	}
	lib, err := catalog.Default().With(mine)
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := lib.Find("heavy post")
	fmt.Println(s.Name, s.Mark, err)
	// Output: Heavy post user's own <nil>
}

func ExampleSection_Grade() {
	s, _ := catalog.Find("460UB82.1")
	g, _ := s.Grade("300")
	fmt.Printf("flange %.0f MPa, web %.0f MPa\n", g.Fy/1e6, g.FyW/1e6)
	_, err := s.Grade("C350L0")
	fmt.Println(err)
	// Output:
	// flange 300 MPa, web 320 MPa
	// 460UB82.1 has no grade "C350L0"; its grades: 300
}
