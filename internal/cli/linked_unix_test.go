//go:build unix

package cli

import (
	"os/exec"
	"strings"
	"testing"
)

// The linker leaves out what nobody calls. What of the libraries could reach a network is not in the program; that some of them start other
// programs, for a clipboard and for editors, is, and nothing of ours calls it (TestNoNetworkAndNoOtherPrograms).
func TestNothingOfANetworkIsLinked(t *testing.T) {
	if testing.Short() {
		t.Skip("the program is built for this")
	}
	out, err := exec.Command("go", "tool", "nm", theProgram(t)).Output()
	if err != nil {
		t.Fatal(err)
	}
	symbols := string(out)
	if !strings.Contains(symbols, "example.org/underveil/internal/cli.Run") {
		t.Fatal("these are not the symbols of the program")
	}
	for _, name := range []string{"net.Dial", "net.(*Dialer)", "net.Listen", "net.(*Resolver).lookup", "net.socket", "syscall.connect", "syscall.socket", "syscall.bind",
		"net/http", "crypto/tls", "tea.Exec", "bubbletea.ExecProcess"} {
		for line := range strings.Lines(symbols) {
			if strings.Contains(line, " T "+name) || strings.Contains(line, " t "+name) {
				t.Errorf("linked: %s", strings.TrimSpace(line))
			}
		}
	}
}
