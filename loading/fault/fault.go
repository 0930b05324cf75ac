// Package fault sorts errors by who must act on them and gives each one a
// place, a finding and a remedy.
//
// It knows no exit codes and no HTTP statuses: cmd turns a Class into either,
// in one place. It imports nothing of the project.
package fault

import (
	"errors"
	"fmt"
	"strings"
)

// Class says who must act on an error.
type Class int

// The classes. The zero Class is Ours, so that an unsorted error is never
// blamed on the user.
const (
	Ours     Class = iota // the program is wrong
	Input                 // what the user gave is wrong
	NotFound              // what was asked for does not exist
	NoFit                 // it does not fit, or the code will not read
	Machine               // disc, permission, a busy database
)

// String returns the class as one plain word, for tables and JSON.
func (c Class) String() string {
	switch c {
	case Input:
		return "input"
	case NotFound:
		return "not found"
	case NoFit:
		return "does not fit"
	case Machine:
		return "machine"
	default:
		return "ours"
	}
}

// Error is one finding: what is wrong, where, and what to do about it.
type Error struct {
	Class Class
	Where string // file:line:column, "float 7" or a path; empty when there is no place
	What  string // one line, no full stop
	Do    string // one line: what to change; empty when nothing can be done
	Err   error  // the cause, if any; not shown twice
}

// Error returns the place and the finding on one line, without the remedy.
func (e *Error) Error() string {
	if e.Where == "" {
		return e.What
	}
	return e.Where + ": " + e.What
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// New makes an Error. What follows the remedy is the cause, at most one.
func New(c Class, where, what, do string, cause ...error) *Error {
	e := &Error{Class: c, Where: where, What: what, Do: do}
	if len(cause) > 0 {
		e.Err = cause[0]
	}
	return e
}

// Inputf makes an Input error without a place; the caller that knows the place
// adds it with At.
func Inputf(do, format string, args ...any) *Error {
	return &Error{Class: Input, What: fmt.Sprintf(format, args...), Do: do}
}

// At returns err with a place put before the place it has. An error that is no
// *Error becomes one of class Ours.
func At(where string, err error) error {
	if err == nil {
		return nil
	}
	var e *Error
	if !errors.As(err, &e) {
		return &Error{Class: Ours, Where: where, What: err.Error(), Err: err}
	}
	c := *e
	switch {
	case c.Where == "":
		c.Where = where
	case where != "":
		c.Where = where + ": " + c.Where
	}
	return &c
}

// ClassOf returns the class of the first Error in err's tree, Ours when there
// is none.
func ClassOf(err error) Class {
	var e *Error
	if errors.As(err, &e) {
		return e.Class
	}
	return Ours
}

// List returns every *Error of a joined error, in order. An error that is no
// *Error is wrapped as Ours.
func List(err error) []*Error {
	if err == nil {
		return nil
	}
	if e, ok := err.(*Error); ok {
		return []*Error{e}
	}
	if j, ok := err.(interface{ Unwrap() []error }); ok {
		var all []*Error
		for _, one := range j.Unwrap() {
			all = append(all, List(one)...)
		}
		return all
	}
	var e *Error
	if errors.As(err, &e) {
		return []*Error{e}
	}
	return []*Error{{Class: Ours, What: strings.TrimSpace(err.Error()), Err: err}}
}

// Grouped is List with findings that say the same of many places told once, at
// the first of them.
func Grouped(err error) []*Error {
	type finding struct {
		class    Class
		what, do string
	}
	var out []*Error
	more := map[finding]int{}
	all := List(err)
	for _, e := range all {
		k := finding{e.Class, e.What, e.Do}
		if more[k]++; more[k] == 1 {
			c := *e
			out = append(out, &c)
		}
	}
	for _, e := range out {
		switch n := more[finding{e.Class, e.What, e.Do}] - 1; {
		case n == 1:
			e.Where += " and 1 more"
		case n > 1:
			e.Where += fmt.Sprintf(" and %d more", n)
		}
	}
	return out
}
