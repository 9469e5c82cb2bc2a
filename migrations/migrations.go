// Package migrations holds the numbered SQL files that make the database, up
// and down.
package migrations

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
)

//go:embed *.sql
var files embed.FS

// Files returns the migrations, named 00001_name.sql and up.
func Files() fs.FS { return files }

// Hash names the whole set of migrations: 16 hexadecimal digits that change
// with any file's name or text.
func Hash() (string, error) {
	names, err := fs.Glob(files, "*.sql")
	if err != nil {
		return "", err
	}
	h := sha256.New()
	for _, name := range names {
		text, err := files.ReadFile(name)
		if err != nil {
			return "", err
		}
		h.Write([]byte(name + "\x00"))
		h.Write(text)
		h.Write([]byte{0})
	}
	return hex.EncodeToString(h.Sum(nil)[:8]), nil
}
