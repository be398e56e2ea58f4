package why

import "strconv"

// figure is a number that goes into a sum: its value, and how many decimals are usually printed of it.
type figure struct {
	value  float64
	places int
}

// sum is a result with the figures that it follows from, in the order in which they are printed.
type sum struct {
	of     func([]float64) float64
	places int // of the result
	in     []figure
}

// mostPlaces is as many decimals as are printed to make a sum come out.
const mostPlaces = 9

// printed is the figures and the result of a sum as they are printed: each figure with as many decimals as it takes
// for the result to follow from what is printed alone, so that whoever does the sum again gets the same.
func (s sum) printed() []any {
	values := make([]float64, len(s.in))
	for i, f := range s.in {
		values[i] = f.value
	}
	result := fixed(s.of(values), s.places)
	out := make([]any, len(s.in)+1)
	for more := 0; ; more++ {
		for i, f := range s.in {
			text := fixed(f.value, f.places)
			if exact := strconv.FormatFloat(f.value, 'f', -1, 64); len(exact) > len(text) {
				text = fixed(f.value, f.places+more)
			}
			out[i] = text
			values[i], _ = strconv.ParseFloat(text, 64)
		}
		if fixed(s.of(values), s.places) == result || more == mostPlaces {
			out[len(s.in)] = result
			return out
		}
	}
}

func fixed(v float64, places int) string { return strconv.FormatFloat(v, 'f', places, 64) }

func product(v []float64) float64 {
	all := 1.0
	for _, f := range v {
		all *= f
	}
	return all
}

func total(v []float64) float64 {
	all := 0.0
	for _, f := range v {
		all += f
	}
	return all
}

// perCent is the first figure in per cent of all the others together.
func perCent(v []float64) float64 { return 100 * v[0] / total(v[1:]) }
