package export

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"scopewright/export/exchange"
)

// OpenNamed opens a file that a person named; its errors are sentences.
func OpenNamed(path string) (*os.File, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, unreadable(path, err)
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder: name a file in it", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, unreadable(path, err)
	}
	return f, nil
}

func unreadable(path string, err error) error {
	why := "check the file and the disk it is on"
	switch {
	case errors.Is(err, fs.ErrNotExist):
		why = "there is no such file"
	case errors.Is(err, fs.ErrPermission):
		why = "you may not read it: change its permissions"
	}
	return fmt.Errorf("%q cannot be read: %s", path, why)
}

// ReadNamed reads such a file whole; it may be as large as an exchange file.
func ReadNamed(path string) ([]byte, error) {
	f, err := OpenNamed(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, exchange.MaxBytes+1))
	if err != nil {
		return nil, unreadable(path, err)
	}
	if len(data) > exchange.MaxBytes {
		return nil, fmt.Errorf("%s is larger than %d MB: split it", path, exchange.MaxBytes>>20)
	}
	return data, nil
}
