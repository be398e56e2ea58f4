package shade

import "slices"

// spread is the order in which so many strands of each kind are set, so that each kind is as evenly spread as it can
// be: the indices of counts, with the most frequent first. It tries every order, so that counts are to add up
// to few: the six places of a repeat have at most 90 orders for three kinds.
func spread(counts []int) []int {
	places, most := 0, 0
	for kind, count := range counts {
		places += count
		if count > counts[most] {
			most = kind
		}
	}
	if places == 0 {
		return nil
	}
	left := slices.Clone(counts)
	order := make([]int, 0, places)
	var best, least []int
	var extend func()
	extend = func() {
		if len(order) == places {
			if u := unevenness(order, counts); least == nil || slices.Compare(u, least) < 0 {
				best, least = slices.Clone(order), u
			}
			return
		}
		for kind := range left {
			if left[kind] == 0 || len(order) == 0 && kind != most {
				continue
			}
			left[kind]--
			order = append(order, kind)
			extend()
			order = order[:len(order)-1]
			left[kind]++
		}
	}
	extend()
	return best
}

// unevenness is what is wrong with an order, the worst first. When it is set over and over: how many strands have their
// like next to them, how many have it two places on, and so on as far as halfway round. Then, in the order by
// itself: how far the kinds run ahead of their share and fall behind it from strand to strand, as a sum of squares.
func unevenness(order, counts []int) []int {
	var wrong []int
	for apart := 1; apart <= len(order)/2; apart++ {
		wrong = append(wrong, alike(order, slices.Concat(order[apart:], order[:apart])))
	}
	drift := 0
	set := make([]int, len(counts)) // how many of each kind have been set so far
	for i, kind := range order {
		set[kind]++
		for k, count := range counts {
			ahead := set[k]*len(order) - (i+1)*count
			drift += ahead * ahead
		}
	}
	return append(wrong, drift)
}

// alike is how many strands of one order are of the same kind as those in the same places of the other.
func alike(a, b []int) int {
	same := 0
	for i := range a {
		if a[i] == b[i] {
			same++
		}
	}
	return same
}
