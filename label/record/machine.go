package record

import (
	"errors"
	"io/fs"
	"path/filepath"

	"modernc.org/sqlite"

	"floatmark/loading/fault"
)

// SQLite's primary result codes that have a remedy of their own
// (sqlite.org/rescode.html).
const (
	codePerm     = 3
	codeBusy     = 5
	codeLocked   = 6
	codeReadOnly = 8
	codeIO       = 10
	codeCorrupt  = 11
	codeFull     = 13
	codeCantOpen = 14
	codeNotADB   = 26
	// primary masks the extended part of a code away.
	primary = 0xff
)

// machine turns an error of the database or the disc into a fault that says
// what to do. A fault passes unchanged; nil stays nil.
func (s *Store) machine(err error) error {
	if err == nil {
		return nil
	}
	var f *fault.Error
	if errors.As(err, &f) {
		return err
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		return fault.New(fault.Machine, s.path, "the record cannot be opened: "+reason(err),
			"look at the file's and the folder's permissions", err)
	}
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return fault.At(s.path, err)
	}
	dir := filepath.Dir(s.path)
	switch e.Code() & primary {
	case codeBusy, codeLocked:
		return fault.New(fault.Machine, s.path, "the record is busy: another floatmark has been writing to it",
			"wait until it is done or close it, then run this again; nothing was changed", err)
	case codeReadOnly, codePerm:
		if s.write == nil {
			// Reading without helper files would miss what a writer adds meanwhile.
			return fault.New(fault.Machine, s.path, "the record cannot be read in a folder that may not be written: it keeps two helper files beside it while it is open",
				"make the folder "+dir+" writable, or copy it to a place that is", err)
		}
		return fault.New(fault.Machine, s.path, "the record may not be written",
			"make the file and the folder "+dir+" writable, or name another workshop folder", err)
	case codeCantOpen:
		return fault.New(fault.Machine, s.path, "the record cannot be opened",
			"make the file and the folder "+dir+" readable and writable: the record keeps two helper files beside it", err)
	case codeFull:
		return fault.New(fault.Machine, s.path, "the disc is full", "make room, then run this again; nothing was changed", err)
	case codeIO:
		return fault.New(fault.Machine, s.path, "the disc failed while the record was read or written",
			"copy the workshop folder to another disc, then run this again", err)
	case codeCorrupt:
		return fault.New(fault.Machine, s.path, "the record is damaged",
			"put it aside and use your last copy of the workshop folder", err)
	case codeNotADB:
		return fault.New(fault.Input, s.path, "this file is no record", "name another file or another workshop folder; this one was not changed", err)
	}
	return fault.New(fault.Ours, s.path, "the record refused a command: "+e.Error(), "", err)
}

// isBusy reports an error that another writer's lock made.
func isBusy(err error) bool {
	var e *sqlite.Error
	return errors.As(err, &e) && (e.Code()&primary == codeBusy || e.Code()&primary == codeLocked)
}
