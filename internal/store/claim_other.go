//go:build !unix

package store

import "os"

// lock is not to be had here: SQLite alone keeps two servers apart.
func lock(*os.File) (bool, error) { return true, nil }
