package layers

// room is one row of the import table. A name that ends in "/..." stands for every package below it.
type room struct {
	name string
	pure bool     // no disk, network, clock, log, randomness beyond a seed; may import pure rooms only
	may  []string // rooms it may import
	out  []string // outside modules it may import
	why  string   // the reason for the fence
}

// The floors, from the bottom up, as shorthand for the rows of table.
var (
	ground    = []string{"cite", "finding", "formula", "quantity", "words"}
	model     = []string{"design", "hardware", "project"}
	knowledge = []string{"calc/...", "figure", "fit", "routes", "tariff"}
	decisions = []string{"addressing", "cabling", "check", "circuit", "cost", "failure", "network", "packing", "power", "siting"}
)

func join(lists ...[]string) []string {
	var all []string
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}

// table is the import table. Test files may import more (a test may read a folder or a schema).
var table = []room{
	// Ground: knows nothing of stations.
	{name: "quantity", pure: true, why: "every room counts with it, so it depends on none"},
	{name: "cite", pure: true, why: "names of published sources only; numbers live beside the formula that uses them"},
	{name: "words", pure: true, why: "the message catalogue knows texts, not designs"},
	{name: "formula", pure: true, may: []string{"cite"}, why: "a formula sees numbers and units, never the project"},
	{name: "formula/formulatest", pure: true, may: join(ground, []string{"calc/..."}), out: []string{"github.com/expr-lang/expr"}, why: "test support: evaluates a formula's text a second way"},
	{name: "finding", pure: true, why: "one message type for all rooms; it must not know what it is about"},
	{name: "tabular", may: []string{"quantity", "words"}, out: []string{"github.com/xuri/excelize/v2", "golang.org/x/text"}, why: "tables in and out know cells, not signals; the only room that knows spreadsheet files"},
	{name: "typeface", pure: true, out: []string{"golang.org/x/image"}, why: "fonts and their widths; what is written is others' affair"},
	{name: "scene/...", pure: true, may: []string{"quantity", "typeface", "scene/..."}, out: []string{"codeberg.org/go-pdf/fpdf"}, why: "paper in millimetres and its writers; what is drawn is the drawing room's affair"},
	{name: "scene/scenetest", may: []string{"scene/...", "typeface"}, why: "test support: what every sheet must keep, and golden pairs"},
	{name: "tomltree", pure: true, may: ground, out: []string{"github.com/pelletier/go-toml/v2"}, why: "TOML with lines, from bytes; what a key means is the reader's affair"},
	{name: "modbus", why: "a protocol, no project"},

	// Model: plain data.
	{name: "project", pure: true, may: ground, why: "what the engineer states, before any decision"},
	{name: "hardware", pure: true, may: join(ground, []string{"project", "tomltree"}), why: "a construction is data; the only room that may know one by name"},
	{name: "design/designtest", pure: true, may: join(ground, []string{"design"}), why: "test support: a design made by hand"},
	{name: "design", pure: true, may: join(ground, []string{"project"}), why: "plain data with one byte form; it must be readable without any deciding room"},

	// Knowledge: numbers in, one number out.
	{name: "calc/...", pure: true, may: []string{"quantity", "cite", "formula", "calc/..."}, out: []string{"gonum.org/v1/gonum"}, why: "a handbook formula never sees the project: it gets numbers and returns one"},
	{name: "calc/calctest", may: []string{"quantity", "cite", "formula"}, why: "test support: reads tables of published values from testdata"},
	{name: "routes", pure: true, may: join(ground, []string{"project"}), why: "shortest ways only; what a metre costs is the tariff's affair"},
	{name: "fit", pure: true, may: join(ground, model, []string{"calc/..."}), why: "one answer to 'may these two go together' for all rooms, so it may depend on no decision"},
	{name: "tariff", pure: true, may: join(ground, model, []string{"calc/...", "fit", "routes"}), why: "prices what packing will pay without calling it; siting leans on that"},

	{name: "figure", pure: true, may: join(ground, model, []string{"calc/..."}), why: "where everything of a finished design sits, and the records many figures lean on; it decides nothing"},

	// Decisions: whole numbers only, and never a check that feeds back.
	{name: "siting", pure: true, may: join(ground, model, knowledge), why: "the search is given its problem in plain integers and may call no later room"},
	{name: "siting/bench", may: []string{"siting"}, why: "a program for measuring by hand"},
	{name: "packing", pure: true, may: join(ground, model, knowledge), why: "completes one station; it must not know why the station stands there"},
	{name: "addressing", pure: true, may: join(ground, model, knowledge), why: "numbers a packed station; must not move a module"},
	{name: "cabling", pure: true, may: join(ground, model, knowledge), why: "cables follow siting and packing; must not move a signal"},
	{name: "power", pure: true, may: join(ground, model, knowledge), why: "sizes supplies for a packed station; must not move a module"},
	{name: "network", pure: true, may: join(ground, model, knowledge), why: "orders and names stations; must not move one"},
	{name: "circuit", pure: true, may: join(ground, model, knowledge), why: "figures of each signal's circuit in a finished design; must decide nothing"},
	{name: "cost", pure: true, may: join(ground, model, knowledge), why: "sums what the others decided; must decide nothing"},
	{name: "check", pure: true, may: join(ground, model, knowledge, []string{"cabling"}), why: "reads the design and returns findings; deciding rooms ask fit up front instead; of cabling it asks the volts that a cable is chosen by"},
	{name: "failure", pure: true, may: join(ground, model), why: "reads the design only"},

	// Pipeline.
	{name: "plan", pure: true, may: join(ground, model, knowledge, decisions), why: "the decisions in order; what the disk holds comes in as values"},
	{name: "checker", pure: true, may: join(ground, model), out: []string{"github.com/expr-lang/expr"}, why: "the independent judge: shares no code with any deciding or knowing room, so that both cannot share a mistake"},
	{name: "checker/corrupt", pure: true, may: ground, why: "test support: seeded faults in a design, as plain JSON"},

	// In and out.
	{name: "intake", pure: true, may: join(ground, model, []string{"fit"}), out: []string{"golang.org/x/text", "github.com/expr-lang/expr"}, why: "foreign rows to signals; files are read by tabular and folder"},
	{name: "intake/fromtable", may: join(ground, model, []string{"intake", "tabular"}), why: "a table file as a book of plain cells"},
	{name: "folder", may: join(ground, model, []string{"intake", "tabular", "tomltree"}), out: []string{"golang.org/x/text"}, why: "brings the project in and out of the disk and decides nothing"},
	{name: "demo", pure: true, may: join(ground, model), why: "the example as files by value; app writes them"},
	{name: "synth", pure: true, may: join(ground, model, []string{"routes"}), why: "made-up sites by seed, for benchmarks and tests"},
	{name: "paper", pure: true, may: join(ground, []string{"scene", "typeface"}), why: "the one page model: frame, title block, headings and tables flowing over sheets; knows no station"},
	{name: "document", pure: true, may: join(ground, model, []string{"calc/conductor", "calc/loop", "calc/sensor", "drawing", "explain", "modification", "paper", "scene", "schedule", "typeface"}), out: []string{"rsc.io/qr"}, why: "report, guide, loop sheets, labels and the pack in its order; computes no design figure, only what a test is expected to show (calc)"},
	{name: "drawing", pure: true, may: join(ground, model, []string{"calc/conductor", "paper", "scene", "typeface"}), why: "reads the design and draws; computes no design figure, only the gauge that stands for an area"},
	{name: "schedule", pure: true, may: join(ground, model, []string{"calc/conductor"}), why: "reads the design into tables as values; computes no design figure, only totals and cuts of what it lists, and what a handbook says of ferrules, glands and gauges"},
	{name: "exchange/...", pure: true, may: join(ground, model, []string{"exchange/...", "tomltree"}), out: []string{"golang.org/x/text"}, why: "open formats from and to the design, as bytes; computes no figure"},
	{name: "exchange/extest", may: join(ground, model), out: []string{"pgregory.net/rapid"}, why: "test support: random designs; light, so that the readers can be fuzzed"},
	{name: "exchange/sqlitefile", may: join(ground, []string{"exchange/tables"}), out: []string{"modernc.org/sqlite"}, why: "the one exchange that needs a database to write its file; what stands in it is exchange/tables' affair"},
	{name: "explain", pure: true, may: join(ground, model), why: "makes text of the records in the design; evaluates nothing"},
	{name: "modification", pure: true, may: join(ground, model), why: "compares two designs; plans nothing"},
	{name: "checkout", pure: true, may: join(ground, model), why: "reads the design and records; time comes in as a value"},
	{name: "virtual", may: join(ground, model, []string{"modbus"}), why: "plays a station; never touches a project"},

	// Keeping.
	{name: "store/merge", pure: true, why: "joins tables and texts; knows neither signals nor the store"},
	{name: "store/storetest", may: []string{"store/...", "peer"}, out: []string{"github.com/jackc/pgx/v5", "github.com/google/go-cmp", "pgregory.net/rapid"}, why: "test support: the suite that every keeper passes, and a throw-away server"},
	{name: "store/...", may: join(ground, []string{"store/..."}), out: []string{"modernc.org/sqlite", "github.com/jackc/pgx/v5", "github.com/pressly/goose/v3"}, why: "keeps bytes by hash; knows nothing of their meaning"},

	// Faces.
	{name: "app", may: []string{"*"}, out: []string{"golang.org/x/sys"}, why: "what a user can do, as functions; the one place where disk rooms and pure rooms meet"},
	{name: "web/...", may: join(ground, model, []string{"app", "words", "web/...", "schedule", "store"}), why: "pages and API call app; they decide and read nothing by themselves"},
	{name: "peer/...", may: []string{"peer"}, why: "test support: finds programs that give a second opinion"},
	{name: "testrun", why: "the counter of ./test; no room knows it"},
	{name: "layers", why: "this test"},
}

// faceModules are outside modules that only the command line (package main) may import.
var faceModules = []string{"github.com/alecthomas/kong", "github.com/schollz/progressbar/v3", "golang.org/x/term"}

// fence is a ban that holds in every pure room.
type fence struct {
	path  string   // import path; "net/..." covers everything below
	names []string // banned names of that package; empty = the whole package
	why   string
}

var fences = []fence{
	{path: "os/...", why: "a pure room has no disk or environment: the result would depend on the machine"},
	{path: "io/ioutil", why: "see os"},
	{path: "path/filepath", why: "its answer depends on the operating system; package path does not"},
	{path: "syscall", why: "see os"},
	{path: "net/...", why: "a pure room has no network"},
	{path: "log/...", why: "what a room has to say is a finding or an error"},
	{path: "crypto/rand", why: "nothing random: ids come from places and ordinals"},
	{path: "math/rand/...", names: []string{
		"Int", "Intn", "IntN", "Int31", "Int31n", "Int32", "Int32N", "Int63", "Int63n", "Int64", "Int64N",
		"Uint", "Uint32", "Uint32N", "Uint64", "Uint64N", "UintN", "N", "Float32", "Float64", "ExpFloat64", "NormFloat64",
		"Perm", "Shuffle", "Read", "Seed",
	}, why: "randomness only from rand.New with the seed of the design"},
	{path: "hash/maphash", why: "its seed differs from run to run"},
	{path: "time", names: []string{
		"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTicker", "NewTimer", "Local", "LoadLocation",
	}, why: "a pure room has no clock: budgets are counted in steps, time is a value that comes in"},
	{path: "fmt", names: []string{"Print", "Printf", "Println", "Scan", "Scanf", "Scanln"}, why: "writing to the terminal belongs to the command"},
	{path: "unsafe", why: "nothing here needs it"},
	{path: "plugin", why: "nothing here needs it"},
}
