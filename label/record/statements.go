package record

import (
	"database/sql"
	"sync"
)

// often is how many times a store is asked the same before its statement is kept. A
// page asks each thing once or twice; who goes through thousands of floats has SQLite
// read the same few queries thousands of times, which takes longer than to answer
// them.
const often = 3

// statements are the queries that a store was asked, and those that are kept ready.
// They end with the connections they are made for.
type statements struct {
	mu    sync.Mutex
	times map[string]int
	ready map[string]*sql.Stmt
}

// statement returns the statement of a query that is asked often; nil for another.
func (s *statements) statement(on *sql.DB, query string) (*sql.Stmt, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if st := s.ready[query]; st != nil {
		return st, nil
	}
	if s.times == nil {
		s.times, s.ready = map[string]int{}, map[string]*sql.Stmt{}
	}
	if s.times[query]++; s.times[query] < often {
		return nil, nil
	}
	st, err := on.Prepare(query)
	if err != nil {
		return nil, err
	}
	s.ready[query] = st
	return st, nil
}
