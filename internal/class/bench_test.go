package class

import (
	"fmt"
	"testing"
)

// What is asked for is 2,000 hand-ins in 5 s on two cores, in memory that does not grow with their number.
func BenchmarkMark(b *testing.B) {
	for _, task := range tasks {
		for _, n := range []int{200, 2000} {
			b.Run(fmt.Sprint(task, n), func(b *testing.B) {
				x, folder := exercise(b, task), b.TempDir()
				aClass(b, folder, x, n)
				for b.Loop() {
					if c, unread, err := Mark(folder, Terms{Exercise: x}); err != nil || unread != nil || c.Marked() != n {
						b.Fatal(unread, err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*n), "µs/hand-in")
			})
		}
	}
}
