package peer

// program is one program that a test may ask, and where it comes from.
type program struct {
	name string // as called
	from string // Debian package, or npm:PACKAGE@VERSION
	why  string
}

// list is what ./test installs where it is missing (go run ./internal/peer/install).
var list = []program{
	{"pdftotext", "poppler-utils", "reads the text of our PDF files"},
	{"pdffonts", "poppler-utils", "lists the fonts embedded in our PDF files"},
	{"pdftoppm", "poppler-utils", "turns our PDF pages into pictures"},
	{"xmllint", "libxml2-utils", "judges SVG and other XML"},
	{"ssconvert", "gnumeric", "a spreadsheet program: opens our XLSX"},
	{"zbarimg", "zbar-tools", "reads our QR codes back"},
	{"dxf-parser", "npm:dxf-parser@1.1.2", "an independent reader of our DXF files"},
	{"python3", "python3", "its standard library reads the form of EDS files"},
	{"sqlite3", "sqlite3", "opens our SQLite files"},
	{"initdb", "postgresql", "a PostgreSQL server for the store's tests"},
}
