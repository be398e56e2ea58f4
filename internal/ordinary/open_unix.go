//go:build unix

package ordinary

import "syscall"

// withoutWaiting opens a pipe that nobody writes to at once.
const withoutWaiting = syscall.O_NONBLOCK
