package ordinary

import "errors"

// Cause is the first cause of an error, without the names of files and of system calls around it.
func Cause(err error) error {
	for inner := errors.Unwrap(err); inner != nil; inner = errors.Unwrap(err) {
		err = inner
	}
	return err
}
