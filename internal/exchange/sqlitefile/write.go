package sqlitefile

import (
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	_ "modernc.org/sqlite" // the driver

	"railwright/internal/exchange/tables"
)

// applicationID marks the file (SQLite's application_id): "RWD1".
const applicationID = 0x52574431

// Bytes writes the tables and the table about into a new file and returns its bytes.
func Bytes(all []tables.Table) ([]byte, error) {
	dir, err := os.MkdirTemp("", "railwright-sqlite-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "design.sqlite")
	if err := write(path, append(all[:len(all):len(all)], tables.About(all))); err != nil {
		return nil, fmt.Errorf("write SQLite file: %w", err)
	}
	return os.ReadFile(path)
}

func write(path string, all []tables.Table) (err error) {
	db, err := sql.Open("sqlite", path)
	if err != nil {
		return err
	}
	defer func() {
		if cerr := db.Close(); err == nil {
			err = cerr
		}
	}()
	db.SetMaxOpenConns(1)
	if _, err := db.Exec(fmt.Sprintf("PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF; PRAGMA application_id = %d; PRAGMA user_version = 1", applicationID)); err != nil {
		return err
	}
	tx, err := db.Begin()
	if err != nil {
		return err
	}
	for _, t := range all {
		if err := create(tx, t, all); err != nil {
			_ = tx.Rollback() // the first error counts
			return fmt.Errorf("table %s: %w", t.Name, err)
		}
	}
	if err := tx.Commit(); err != nil {
		return err
	}
	_, err = db.Exec("VACUUM")
	return err
}

func quote(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }

func create(tx *sql.Tx, t tables.Table, all []tables.Table) error {
	var parts, keys, marks, columns []string
	for _, c := range t.Columns {
		parts = append(parts, strings.TrimSpace(quote(c.Name)+" "+string(c.Type)))
		columns = append(columns, quote(c.Name))
		marks = append(marks, "?")
		if c.Key {
			keys = append(keys, quote(c.Name))
		}
	}
	if len(keys) > 0 {
		parts = append(parts, "PRIMARY KEY ("+strings.Join(keys, ", ")+")")
	}
	if t.Parent != "" {
		parts = append(parts, "FOREIGN KEY ("+strings.Join(columns[:t.ParentKeys], ", ")+") REFERENCES "+quote(t.Parent)+" ("+strings.Join(keysOf(all, t.Parent), ", ")+")")
	}
	if _, err := tx.Exec("CREATE TABLE " + quote(t.Name) + " (\n  " + strings.Join(parts, ",\n  ") + "\n)"); err != nil {
		return err
	}
	insert, err := tx.Prepare("INSERT INTO " + quote(t.Name) + " (" + strings.Join(columns, ", ") + ") VALUES (" + strings.Join(marks, ", ") + ")")
	if err != nil {
		return err
	}
	defer insert.Close()
	for _, row := range t.Rows {
		if _, err := insert.Exec(row...); err != nil {
			return err
		}
	}
	return nil
}

func keysOf(all []tables.Table, name string) []string {
	var out []string
	for _, t := range all {
		if t.Name != name {
			continue
		}
		for _, c := range t.Columns {
			if c.Key {
				out = append(out, quote(c.Name))
			}
		}
	}
	return out
}

// Read returns the rows of a table of a file as they were written; each cell is string, int64, float64 or nil.
func Read(path string, t tables.Table) (rows [][]any, err error) {
	db, err := sql.Open("sqlite", "file:"+path+"?mode=ro")
	if err != nil {
		return nil, err
	}
	defer db.Close()
	var columns []string
	for _, c := range t.Columns {
		columns = append(columns, quote(c.Name))
	}
	got, err := db.Query("SELECT " + strings.Join(columns, ", ") + " FROM " + quote(t.Name) + " ORDER BY rowid")
	if err != nil {
		return nil, err
	}
	defer got.Close()
	for got.Next() {
		row := make([]any, len(columns))
		into := make([]any, len(columns))
		for i := range row {
			into[i] = &row[i]
		}
		if err := got.Scan(into...); err != nil {
			return nil, err
		}
		rows = append(rows, row)
	}
	return rows, got.Err()
}
