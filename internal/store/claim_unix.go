//go:build unix

package store

import (
	"errors"
	"os"
	"syscall"
)

// lock takes the one lock on an open file, and reports false when another
// process holds it. The system lets go of it when the process ends, however
// it ends.
func lock(f *os.File) (bool, error) {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return false, nil
	}
	return err == nil, err
}
