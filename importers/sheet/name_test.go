package sheet_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/importers/sheet"
	"lanewright/testdata/sheets"
)

const fewRows = "Part,Container\nA,B\n"

// TestOddFileNames: whatever a file is called, its facts carry a name that can
// be shown and stored.
func TestOddFileNames(t *testing.T) {
	t.Parallel()
	for given, want := range map[string]string{
		"Parts.csv": "Parts.csv", "Behälter.csv": "Behälter.csv", "a\x00b.csv": "ab.csv", "a\nb.csv": "ab.csv",
		"Beh\xe4lter.csv": "Beh\ufffdlter.csv", `C:\plans\Parts.csv`: "Parts.csv",
	} {
		book, err := sheet.Read(t.Context(), given, []byte(fewRows), sheet.DefaultLimits())
		require.NoError(t, err, "%q", given)
		assert.Equal(t, want, book.Sheets[0].File, "%q", given)
	}
}

// TestZipOfAnotherAge: names of an archive that are not UTF-8 are code page 437.
func TestZipOfAnotherAge(t *testing.T) {
	t.Parallel()
	data := sheets.Files("Beh\x84lter.csv", fewRows, "Stückliste.csv", fewRows).Zip()
	book, err := sheet.Read(t.Context(), "plant.zip", data, sheet.DefaultLimits())
	require.NoError(t, err)
	require.Len(t, book.Sheets, 2)
	assert.Equal(t, "Behälter", book.Sheets[0].Name)
	assert.Equal(t, "Stückliste", book.Sheets[1].Name)
}

func TestOddNameInAFolder(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	file := dir + string(filepath.Separator) + "Beh\xe4lter.csv"
	if err := os.WriteFile(file, []byte(fewRows), 0o600); err != nil {
		require.Empty(t, os.Getenv("CI"), "%v", err)
		t.Skipf("this system has no such file names: %v", err)
	}
	book, err := sheet.Open(t.Context(), dir, sheet.DefaultLimits())
	require.NoError(t, err)
	assert.Equal(t, "Beh\ufffdlter.csv", book.Sheets[0].File)
}
