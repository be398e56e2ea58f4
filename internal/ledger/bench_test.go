package ledger

import (
	"fmt"
	"testing"

	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/studio"
)

// What is asked for is 10,000 sheets in 5 s on two cores, in memory that does not grow with their number.
func BenchmarkDue(b *testing.B) {
	for _, n := range []int{100, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			folder := b.TempDir()
			manyClients(b, folder, n)
			for b.Loop() {
				if list, unread, err := Due(folder, day("2026-11-26"), false, func(s *sheet.Sheet) *sheet.Sheet { return s }); err != nil || unread != nil || list.Sheets != n {
					b.Fatal(list.Sheets, unread, err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*n), "µs/sheet")
		})
	}
}

func BenchmarkStock(b *testing.B) {
	folder := b.TempDir()
	manyClients(b, folder, 1000)
	for b.Loop() {
		if stock, unread, err := StockOf(folder, day("2026-11-26"), day("2027-01-21"), &studio.Studio{}); err != nil || unread != nil || stock.Sheets != 1000 {
			b.Fatal(stock.Sheets, unread, err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*1000), "µs/sheet")
}
