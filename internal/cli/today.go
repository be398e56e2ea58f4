package cli

import (
	"fmt"
	"time"

	"example.org/underveil/internal/visit"
)

// now is the moment, by the clock and the calendar here; with --today on that day, by the clock.
func (p *program) now() (time.Time, error) {
	now := time.Now()
	if p.todayIs == "" {
		return now, nil
	}
	day, err := visit.Day(p.todayIs)
	if err != nil {
		return now, fmt.Errorf("--today: %w", err)
	}
	return time.Date(day.Year(), day.Month(), day.Day(), now.Hour(), now.Minute(), now.Second(), now.Nanosecond(), now.Location()), nil
}
