// Package store keeps runs in one SQLite file: what was asked, every generation's state, every variant that was
// evaluated, and the front. A run that was killed goes on from its last complete generation.
//
// In: states of an optimize.Run. Out: the same, and checkpoints. It knows no shed: a variant is a key, a point, a score
// and whatever text the caller keeps with it.
package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	_ "modernc.org/sqlite" // the pure Go driver

	"leanbay/optimize"
)

// Version is the schema's version. A file of another version is refused, never changed.
const Version = 1

// schema is the whole of version 1. Points and scores are JSON, so that any SQLite shell can read them.
const schema = `
CREATE TABLE run (
	id INTEGER PRIMARY KEY CHECK (id = 1),
	brief TEXT NOT NULL,
	brief_hash TEXT NOT NULL,
	seed INTEGER NOT NULL,
	config TEXT NOT NULL,
	program TEXT NOT NULL,
	reason TEXT NOT NULL DEFAULT ''
);
CREATE TABLE generation (
	number INTEGER PRIMARY KEY,
	evaluations INTEGER NOT NULL,
	hypervolume REAL NOT NULL,
	lightest TEXT NOT NULL DEFAULT '',
	snapshot BLOB NOT NULL
);
CREATE TABLE variant (
	key TEXT PRIMARY KEY,
	generation INTEGER NOT NULL,
	point TEXT NOT NULL,
	score TEXT NOT NULL
);
CREATE TABLE front (
	place INTEGER PRIMARY KEY,
	key TEXT NOT NULL
);`

// Run says what was asked of a run. Config holds what a resumed run must repeat.
type Run struct {
	Brief     string
	BriefHash string
	Seed      uint64
	Config    string // JSON of the search's settings
	Program   string // version of the program
}

// Store is an open run file. It is for one goroutine.
type Store struct {
	db *sql.DB
}

// Create makes the file at path with one run in it. It fails if the file exists with another run or version.
func Create(ctx context.Context, path string, r Run) (*Store, error) {
	s, err := open(ctx, path)
	if err != nil {
		return nil, err
	}
	_, err = s.db.ExecContext(ctx, `INSERT INTO run (id, brief, brief_hash, seed, config, program) VALUES (1, ?, ?, ?, ?, ?)`,
		r.Brief, r.BriefHash, int64(r.Seed), r.Config, r.Program)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("%s already holds a run; resume it, or choose another folder", path), s.Close())
	}
	return s, nil
}

// Open opens an existing run file.
func Open(ctx context.Context, path string) (*Store, Run, error) {
	s, err := open(ctx, path)
	if err != nil {
		return nil, Run{}, err
	}
	var r Run
	var seed int64
	err = s.db.QueryRowContext(ctx, `SELECT brief, brief_hash, seed, config, program FROM run`).Scan(&r.Brief, &r.BriefHash, &seed, &r.Config, &r.Program)
	if err != nil {
		return nil, Run{}, errors.Join(fmt.Errorf("%s holds no run: %w", path, err), s.Close())
	}
	r.Seed = uint64(seed)
	return s, r, nil
}

// open opens or makes the file and holds it to the schema's version. Every write is on disk before the next generation
// starts.
func open(ctx context.Context, path string) (*Store, error) {
	db, err := sql.Open("sqlite", "file:"+path+"?_pragma=busy_timeout(5000)&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)")
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	var version int
	if err := db.QueryRowContext(ctx, `PRAGMA user_version`).Scan(&version); err != nil {
		return nil, errors.Join(fmt.Errorf("%s is not a run file: %w", path, err), db.Close())
	}
	switch version {
	case Version:
	case 0:
		if err := install(ctx, db); err != nil {
			return nil, errors.Join(fmt.Errorf("%s: %w", path, err), db.Close())
		}
	default:
		return nil, errors.Join(fmt.Errorf("%s has schema version %d, this program writes %d: use the program that made it", path, version, Version), db.Close())
	}
	return &Store{db: db}, nil
}

// install writes the schema into an empty file, whole or not at all.
func install(ctx context.Context, db *sql.DB) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }() // does nothing after a commit
	if _, err := tx.ExecContext(ctx, schema); err != nil {
		return fmt.Errorf("it is not an empty run file: %w", err)
	}
	if _, err := tx.ExecContext(ctx, fmt.Sprintf(`PRAGMA user_version = %d`, Version)); err != nil {
		return err
	}
	return tx.Commit()
}

// Close closes the file.
func (s *Store) Close() error { return s.db.Close() }

// Generation implements optimize.Recorder: it writes one generation whole or not at all.
func (s *Store) Generation(st optimize.State) error {
	snapshot, err := st.Snapshot()
	if err != nil {
		return err
	}
	ctx := context.Background() // a cancelled run still keeps the generation that was complete
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	if err := writeGeneration(ctx, tx, &st, snapshot); err != nil {
		return fmt.Errorf("the run file cannot be written: %w", err)
	}
	return tx.Commit()
}

func writeGeneration(ctx context.Context, tx *sql.Tx, st *optimize.State, snapshot []byte) error {
	lightest := ""
	if st.Lightest != nil {
		lightest = st.Lightest.Key
	}
	if _, err := tx.ExecContext(ctx, `INSERT OR REPLACE INTO generation (number, evaluations, hypervolume, lightest, snapshot) VALUES (?, ?, ?, ?, ?)`,
		st.Generation, st.Evaluations, st.Hypervolume, lightest, snapshot); err != nil {
		return err
	}
	// Only the last snapshot is needed to resume; the history keeps its numbers.
	if _, err := tx.ExecContext(ctx, `UPDATE generation SET snapshot = x'' WHERE number < ?`, st.Generation); err != nil {
		return err
	}
	insert, err := tx.PrepareContext(ctx, `INSERT OR IGNORE INTO variant (key, generation, point, score) VALUES (?, ?, ?, ?)`)
	if err != nil {
		return err
	}
	defer insert.Close()
	for i := range st.Fresh {
		v := &st.Fresh[i]
		point, err := json.Marshal(v.Point)
		if err != nil {
			return err
		}
		score, err := json.Marshal(v.Score)
		if err != nil {
			return err
		}
		if _, err := insert.ExecContext(ctx, v.Key, st.Generation, string(point), string(score)); err != nil {
			return err
		}
	}
	if _, err := tx.ExecContext(ctx, `DELETE FROM front`); err != nil {
		return err
	}
	for i := range st.Front {
		if _, err := tx.ExecContext(ctx, `INSERT INTO front (place, key) VALUES (?, ?)`, i, st.Front[i].Key); err != nil {
			return err
		}
	}
	_, err = tx.ExecContext(ctx, `UPDATE run SET reason = ?`, string(st.Reason))
	return err
}

// Checkpoint returns what optimize.Run needs to go on; nil if no generation was complete.
func (s *Store) Checkpoint(ctx context.Context) (*optimize.Checkpoint, error) {
	cp := &optimize.Checkpoint{}
	err := s.db.QueryRowContext(ctx, `SELECT snapshot FROM generation ORDER BY number DESC LIMIT 1`).Scan(&cp.Snapshot)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	rows, err := s.db.QueryContext(ctx, `SELECT key, point, score FROM variant ORDER BY generation, key`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var v optimize.Variant
		var point, score string
		if err := rows.Scan(&v.Key, &point, &score); err != nil {
			return nil, err
		}
		if err := json.Unmarshal([]byte(point), &v.Point); err != nil {
			return nil, fmt.Errorf("variant %q in the run file: %w", v.Key, err)
		}
		if err := json.Unmarshal([]byte(score), &v.Score); err != nil {
			return nil, fmt.Errorf("variant %q in the run file: %w", v.Key, err)
		}
		cp.Seen = append(cp.Seen, v)
	}
	return cp, rows.Err()
}

// Progress is one generation's line.
type Progress struct {
	Generation, Evaluations int
	Hypervolume             float64
}

// History returns every generation's numbers, in order.
func (s *Store) History(ctx context.Context) ([]Progress, error) {
	rows, err := s.db.QueryContext(ctx, `SELECT number, evaluations, hypervolume FROM generation ORDER BY number`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []Progress
	for rows.Next() {
		var p Progress
		if err := rows.Scan(&p.Generation, &p.Evaluations, &p.Hypervolume); err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, rows.Err()
}
