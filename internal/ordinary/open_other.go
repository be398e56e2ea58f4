//go:build !unix

package ordinary

// withoutWaiting is nothing where no pipe has a place among the files.
const withoutWaiting = 0
