package bust

import (
	"fmt"
	"testing"
)

func TestGoldenDrawings(t *testing.T) {
	head, line := headOf(t, 1, nil)
	for _, ascii := range []bool{false, true} {
		scene := sample(head, line, ascii)
		for _, name := range []string{"back", "back-left", "left", "above"} {
			for _, size := range [][2]int{{80, 24}, {48, 20}} {
				file := fmt.Sprintf("%s-%dx%d", name, size[0], size[1])
				if ascii {
					file = "ascii-" + file
				}
				t.Run(file, func(t *testing.T) {
					v, ok := Named(name)
					if !ok {
						t.Fatalf("there is no view %s", name)
					}
					compare(t, file, drawn(NewRelief(head, line, v, size[0], size[1], ascii), scene).String())
				})
			}
		}
	}
}
