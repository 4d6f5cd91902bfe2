package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// claimFile is held locked by whoever serves a data folder.
const claimFile = "serving.lock"

// Claim makes a data folder if there is none, and takes it for one server. Two
// would not harm the database, but each would count calls, and links' openings,
// by itself. Release lets the folder go.
func Claim(folder string) (release func() error, err error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, fmt.Errorf("the data folder %s cannot be made: %w", folder, reason(err))
	}
	f, err := os.OpenFile(filepath.Join(folder, claimFile), os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, fmt.Errorf("the data folder %s cannot be written: %w", folder, reason(err))
	}
	got, err := lock(f)
	if err == nil && !got {
		err = fmt.Errorf("another plumbline serves the data folder %s: stop that one, or give this one a folder of its own", folder)
	}
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return f.Close, nil
}

// reason is why the system refused, without the path that the sentence names.
func reason(err error) error {
	var path *os.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}
