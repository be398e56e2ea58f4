package ptytest

import "fmt"

// colours are the names of the first eight colours; the next eight are the bright ones.
var colours = [...]string{"black", "red", "green", "yellow", "blue", "magenta", "cyan", "white"}

// restyle changes the pen by the numbers of an SGR sequence. If one of them is not ours it reports false, and the pen
// stays as it is.
func (pen *Cell) restyle(numbers []int) bool {
	if len(numbers) == 0 {
		numbers = []int{0}
	}
	next := *pen
	for len(numbers) > 0 {
		used := next.restyleBy(numbers)
		if used == 0 {
			return false
		}
		numbers = numbers[used:]
	}
	*pen = next
	return true
}

// restyleBy obeys the first of the numbers and returns how many it used, 0 for one that it does not know.
func (pen *Cell) restyleBy(numbers []int) int {
	switch n := numbers[0]; {
	case n == 38:
		return longColour(&pen.FG, numbers)
	case n == 48:
		return longColour(&pen.BG, numbers)
	case n >= 30 && n <= 37:
		pen.FG = indexed(n - 30)
	case n >= 40 && n <= 47:
		pen.BG = indexed(n - 40)
	case n >= 90 && n <= 97:
		pen.FG = indexed(n - 90 + 8)
	case n >= 100 && n <= 107:
		pen.BG = indexed(n - 100 + 8)
	default:
		return pen.emphasise(n)
	}
	return 1
}

func (pen *Cell) emphasise(n int) int {
	switch n {
	case 0:
		*pen = Cell{}
	case 1:
		pen.Bold = true
	case 2:
		pen.Dim = true
	case 3:
		pen.Italic = true
	case 4:
		pen.Underline = true
	case 7:
		pen.Reverse = true
	case 22:
		pen.Bold, pen.Dim = false, false
	case 23:
		pen.Italic = false
	case 24:
		pen.Underline = false
	case 27:
		pen.Reverse = false
	case 39:
		pen.FG = ""
	case 49:
		pen.BG = ""
	default:
		return 0
	}
	return 1
}

// longColour reads "38;5;index" and "38;2;red;green;blue", each 0 to 255.
func longColour(colour *string, numbers []int) int {
	switch {
	case len(numbers) >= 3 && numbers[1] == 5 && areBytes(numbers[2:3]):
		*colour = indexed(numbers[2])
		return 3
	case len(numbers) >= 5 && numbers[1] == 2 && areBytes(numbers[2:5]):
		*colour = fmt.Sprintf("#%02x%02x%02x", numbers[2], numbers[3], numbers[4])
		return 5
	}
	return 0
}

func areBytes(numbers []int) bool {
	for _, n := range numbers {
		if n > 255 {
			return false
		}
	}
	return true
}

// indexed names one of the 256 colours.
func indexed(n int) string {
	switch {
	case n < 8:
		return colours[n]
	case n < 16:
		return "bright " + colours[n-8]
	}
	return fmt.Sprintf("index %d", n)
}
