package sheetfile

import (
	"strings"
	"unicode/utf8"
)

// nearest is the word that somebody probably meant, or empty when none is near.
func nearest(typed string, words []string) string {
	typed = strings.ToLower(typed)
	n := utf8.RuneCountInString(typed)
	if n > maxKey {
		return ""
	}
	best, least := "", 1+min(3, (n+1)/3)
	for _, w := range words {
		if d := edits(typed, strings.ToLower(w)); d < least {
			best, least = w, d
		}
	}
	return best
}

// edits is how many characters have to be put in, taken out, changed, or swapped with their neighbour to make one word
// of the other (optimal string alignment).
func edits(a, b string) int {
	from, to := []rune(a), []rune(b)
	before, last, row := make([]int, len(to)+1), make([]int, len(to)+1), make([]int, len(to)+1)
	for j := range last {
		last[j] = j
	}
	for i := range from {
		row[0] = i + 1
		for j := range to {
			cost := 1
			if from[i] == to[j] {
				cost = 0
			}
			row[j+1] = min(last[j]+cost, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && from[i] == to[j-1] && from[i-1] == to[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(to)]
}

// orList is "a, b or c" of the words.
func orList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}
