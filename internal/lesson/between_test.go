package lesson

import (
	"math/rand/v2"
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// randomReport has some of a few findings, each about something of its own.
func randomReport(rnd *rand.Rand) *rule.Report {
	rep := &rule.Report{}
	for slot := range 9 {
		if rnd.IntN(2) == 0 {
			continue
		}
		f := rule.Finding{Concern: sheet.Concern{Rule: "nape", On: sheet.OnSlot, Slot: slot}, Severity: rule.Severity(rnd.IntN(3))}
		if rnd.IntN(4) == 0 {
			f.Accepted = &sheet.Accepted{Concern: f.Concern, Reason: "as agreed"}
		}
		rep.Findings = append(rep.Findings, f)
	}
	return rep
}

// What came and went, put on the findings from before, gives those after; and back again it is told the other way round.
func TestBetweenAddsUp(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 2))
	turns := map[Turn]int{}
	for range 300 {
		before, after := randomReport(rnd), randomReport(rnd)
		had := map[sheet.Concern]rule.Finding{}
		for _, f := range before.Findings {
			had[f.Concern] = f
		}
		news := Between(before, after)
		for i, n := range news {
			turns[n.Turn]++
			was, there := had[n.Concern]
			switch n.Turn {
			case Came:
				if there {
					t.Fatalf("%v came, and was there", n.Concern)
				}
				had[n.Concern] = n.Finding
			case Went:
				if !there {
					t.Fatalf("%v went, and was not there", n.Concern)
				}
				delete(had, n.Concern)
			case Weighs:
				if !there || was.Severity == n.Severity && (was.Accepted == nil) == (n.Accepted == nil) {
					t.Fatalf("%v weighs as it did: %v", n.Concern, was)
				}
				had[n.Concern] = n.Finding
			}
			if i > 0 && weight(news[i-1].Finding) < weight(n.Finding) {
				t.Fatalf("a lighter one comes first: %v, %v", news[i-1], n)
			}
		}
		for _, f := range after.Findings {
			if got, ok := had[f.Concern]; !ok || weight(got) != weight(f) {
				t.Fatalf("%v is not told of: %v", f, got)
			}
			delete(had, f.Concern)
		}
		if len(had) > 0 {
			t.Fatalf("these went and were not told of: %v", had)
		}
		back := Between(after, before)
		if len(back) != len(news) {
			t.Fatalf("%d there, %d back", len(news), len(back))
		}
	}
	if len(turns) != 3 {
		t.Errorf("turns %v", turns)
	}
}

// Put together, no news is lost, and what stands for others is of their kind and row.
func TestTogetherLosesNothing(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 3))
	shorter := 0
	for range 200 {
		all := Between(randomReport(rnd), randomReport(rnd))
		for i := range all {
			if rnd.IntN(3) == 0 {
				all[i].Row.At = 20
			}
			if rnd.IntN(5) == 0 {
				all[i].On = sheet.OnSheet
			}
		}
		list := Together(all)
		type kind struct {
			turn     Turn
			row      sheet.Place
			on       sheet.Scope
			severity rule.Severity
			accepted bool
		}
		of := func(n News) kind { return kind{n.Turn, n.Row, n.On, n.Severity, n.Accepted != nil} }
		count := map[kind]int{}
		for _, n := range all {
			count[of(n)]++
		}
		for _, n := range list {
			if n.On != sheet.OnSlot && n.More > 0 {
				t.Fatalf("%v stands for %d more", n.Concern, n.More)
			}
			count[of(n)] -= 1 + n.More
		}
		for k, n := range count {
			if n != 0 {
				t.Fatalf("%d of %+v are lost", n, k)
			}
		}
		shorter += len(all) - len(list)
	}
	if shorter == 0 {
		t.Error("nothing was put together")
	}
}
