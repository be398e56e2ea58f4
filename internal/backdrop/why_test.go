package backdrop_test

import (
	"strings"
	"testing"

	"example.org/underveil/internal/backdrop"
)

// What is said to decide does: with it alone the background is the same, and without it it is taken to be dark.
func TestWhy(t *testing.T) {
	names := []string{"UNDERVEIL_BACKGROUND", "COLORFGBG"}
	seen := map[string]int{}
	for _, setting := range []string{"", "light", " DARK ", "beige"} {
		for _, fgbg := range []string{"", "15;0", "0;15", "0;8", "0;default", "0;default;7", "0;-7", "0;16", ";"} {
			env := map[string]string{names[0]: setting, names[1]: fgbg}
			got := backdrop.FromEnv(func(key string) string { return env[key] })
			why := backdrop.WhyFrom(func(key string) string { return env[key] })
			decides := ""
			for _, name := range names {
				if strings.HasPrefix(why, name) {
					decides = name
				}
			}
			seen[decides]++
			alone := backdrop.FromEnv(func(key string) string {
				if key == decides {
					return env[key]
				}
				return ""
			})
			if alone != got || decides == "" && !got {
				t.Errorf("%q, %q: %s, and by that alone dark is %v, not %v", setting, fgbg, why, alone, got)
			}
			env[names[1]] = "0;15"
			if decides == names[0] && backdrop.FromEnv(func(key string) string { return env[key] }) != got {
				t.Errorf("%q: COLORFGBG decides too", setting)
			}
		}
	}
	if len(seen) != 3 {
		t.Errorf("%v decide", seen)
	}
}
