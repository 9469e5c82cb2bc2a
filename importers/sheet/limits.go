package sheet

// Limits bound what one file may cost. They are far above any plant's
// workbook and far below what would harm the machine.
type Limits struct {
	// FileBytes is the largest file, or the largest sum of a folder's files.
	FileBytes int64
	// InflatedBytes is the most that all parts of an archive may inflate to.
	InflatedBytes int64
	// Ratio is the largest inflated size of a part as a multiple of its packed
	// size; parts that inflate to less than RatioFrom bytes are not asked.
	Ratio     int64
	RatioFrom int64
	// Entries is the largest number of files in an archive or folder.
	Entries int
	// Sheets is the largest number of sheets in a book.
	Sheets int
	// Rows and Columns bound each sheet.
	Rows    int
	Columns int
	// Cells bounds the cells of a book, counting the empty ones that stand
	// left of a filled one, and the texts it keeps for them.
	Cells int
	// CellBytes is the longest text of one cell.
	CellBytes int
	// form travels with the limits to every text.
	form Form
}

// DefaultLimits are the limits in force where nothing else is said. Rows,
// columns and the length of a text are those of the workbook format itself
// (1 048 576, 16 384 and 32 767 characters of up to four bytes); the others are
// common practice (no source).
func DefaultLimits() Limits {
	return Limits{
		FileBytes:     32 << 20,
		InflatedBytes: 256 << 20,
		Ratio:         250,
		RatioFrom:     8 << 20,
		Entries:       1000,
		Sheets:        256,
		Rows:          1_048_576,
		Columns:       16_384,
		Cells:         6_000_000,
		CellBytes:     4 * 32_767,
	}
}
