package lesson

import (
	"cmp"
	"fmt"
	"slices"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// Turn is what became of a finding from one step to the next.
type Turn uint8

// A finding came, went, or is still there and weighs otherwise: graver or lighter, accepted or no longer so.
const (
	Came Turn = iota
	Went
	Weighs
)

// Word is the turn as it stands before a finding.
func (t Turn) Word() string { return [...]string{"+", "gone:", "now:"}[t] }

// News is a finding that a step brought or took away: as it is after the step, or was before it where it went.
type News struct {
	rule.Finding
	Turn Turn
	More int // how many like it there are in the same row, after Together
}

// Where is the place of the news in words: "height 10, slot 3 left, and 2 more in the row".
func (n News) Where() string {
	where := n.Finding.Where()
	if n.More > 0 {
		where += fmt.Sprintf(", and %d more in the row", n.More)
	}
	return where
}

// Between is what is found otherwise after a step than before it, by what the findings are about: the gravest first, of those as grave
// what came before what went, and then in the order of the reports.
func Between(before, after *rule.Report) []News {
	var news []News
	for _, f := range after.Findings {
		switch was := findingOf(before, f.Concern); {
		case was == nil:
			news = append(news, News{Finding: f, Turn: Came})
		case weight(*was) != weight(f):
			news = append(news, News{Finding: f, Turn: Weighs})
		}
	}
	for _, f := range before.Findings {
		if findingOf(after, f.Concern) == nil {
			news = append(news, News{Finding: f, Turn: Went})
		}
	}
	order := [...]int{Came: 0, Weighs: 1, Went: 2}
	slices.SortStableFunc(news, func(a, b News) int {
		return cmp.Or(-cmp.Compare(weight(a.Finding), weight(b.Finding)), cmp.Compare(order[a.Turn], order[b.Turn]))
	})
	return news
}

// Together puts news that are the same but for the slot together, the first standing for all.
func Together(all []News) []News {
	var list []News
	for _, n := range all {
		i := slices.IndexFunc(list, func(l News) bool {
			return n.On == sheet.OnSlot && l.On == n.On && l.Rule == n.Rule && l.Row == n.Row && l.Turn == n.Turn &&
				l.Severity == n.Severity && (l.Accepted == nil) == (n.Accepted == nil)
		})
		if i >= 0 {
			list[i].More += 1 + n.More
			continue
		}
		list = append(list, n)
	}
	return list
}

// weight is how grave a finding is, nothing where it was accepted.
func weight(f rule.Finding) int {
	if f.Accepted != nil {
		return 0
	}
	return 1 + int(f.Severity)
}
