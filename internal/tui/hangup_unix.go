//go:build unix

package tui

import (
	"os"
	"os/signal"
	"sync/atomic"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"
)

// quitOnHangUp leaves properly, with the terminal put back, when its window or line goes away.
func quitOnHangUp(p *tea.Program, hungUp *atomic.Bool) {
	hung := make(chan os.Signal, 1)
	signal.Notify(hung, syscall.SIGHUP)
	<-hung
	hungUp.Store(true)
	p.Quit()
}
