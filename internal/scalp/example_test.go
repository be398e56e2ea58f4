package scalp_test

import (
	"fmt"
	"log"

	"example.org/underveil/internal/scalp"
)

// A head from four tapes, the row 30 mm up from the nape hairline, and how far two
// places of that row are apart along the scalp: less than along the row itself, which
// is level and so not the shortest way.
func Example() {
	head, err := scalp.Fit(scalp.Measures{Circumference: 560, EarToEar: 340, FrontToNape: 355, NapeWidth: 108})
	if err != nil {
		log.Fatal(err)
	}
	row := head.LineAt(30)
	fmt.Println("Ear to top:", head.EarToTop())
	fmt.Println("Round of the head at:", head.RoundHeight())
	fmt.Println("80 mm along the row:", head.Distance(row.Point(-40), row.Point(40)))

	_, err = scalp.Fit(scalp.Measures{Circumference: 5600, EarToEar: 340, FrontToNape: 355, NapeWidth: 108})
	fmt.Println(err)
	// Output:
	// Ear to top: 125.3 mm
	// Round of the head at: 150.8 mm
	// 80 mm along the row: 79.3 mm
	// circumference 5600 mm: that is not a head; between 500 and 635 mm fits
}
