package tui

import (
	"sync/atomic"

	tea "github.com/charmbracelet/bubbletea"
)

// quitOnHangUp has nothing to wait for: there is no such signal here.
func quitOnHangUp(*tea.Program, *atomic.Bool) {}
