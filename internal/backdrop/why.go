package backdrop

import (
	"os"
	"strconv"
	"strings"
)

// Why says what decided whether the terminal is taken to be dark.
func Why() string { return whyFrom(os.Getenv) }

func whyFrom(getenv func(string) string) string {
	switch strings.ToLower(strings.TrimSpace(getenv("UNDERVEIL_BACKGROUND"))) {
	case "light", "dark":
		return "UNDERVEIL_BACKGROUND says so"
	}
	if n, err := strconv.Atoi(lastField(getenv("COLORFGBG"))); err == nil && n >= 0 && n <= 15 {
		return "COLORFGBG says so"
	}
	return "neither UNDERVEIL_BACKGROUND nor COLORFGBG says, and most are dark"
}
