package tabular

// Limits of what is read. They are far beyond any signal list and small enough that a hostile file
// is refused before it hurts the machine.
const (
	MaxFileBytes     = 256 << 20 // size of the file itself
	MaxUnpackedBytes = 1 << 30   // all XML parts of one file together, unpacked
	MaxParts         = 10_000    // files inside the file
	MaxSheets        = 1_000
	MaxRows          = 1_048_576 // per sheet
	MaxColumns       = 16_384    // per sheet
	MaxCells         = 16 << 20  // of one file, counted to the last filled cell of each row
	MaxCellBytes     = 1 << 20   // text of one cell
	MaxTextBytes     = 512 << 20 // all different texts of one file together
	maxXMLToken      = 8 << 20
	maxXMLDepth      = 256
	maxNotes         = 200 // notes kept per file; further ones are only counted
)
