package fault

import (
	"errors"
	"fmt"
	"testing"
)

func TestAtKeepsClassAndRemedy(t *testing.T) {
	err := At("batch.toml:3:1", At("float 7", Inputf("write it", "%q has no unit", "0.8")))
	if err.Error() != `batch.toml:3:1: float 7: "0.8" has no unit` || ClassOf(err) != Input {
		t.Errorf("%v, %v", err, ClassOf(err))
	}
	if e := List(err); len(e) != 1 || e[0].Do != "write it" {
		t.Errorf("%+v", e)
	}
	if At("x", nil) != nil {
		t.Error("no error became one")
	}
	if plain := At("x", errors.New("boom")); ClassOf(plain) != Ours || plain.Error() != "x: boom" {
		t.Errorf("%v", plain)
	}
	if ClassOf(fmt.Errorf("wrapped: %w", New(Machine, "", "full", ""))) != Machine {
		t.Error("a wrapped error lost its class")
	}
}

func TestGroupedTellsOnce(t *testing.T) {
	same := func(where string) error { return New(NoFit, where, "too small", "make it larger") }
	err := errors.Join(same("a:1"), New(Input, "a:2", "no unit", ""), errors.Join(same("a:3"), same("a:4")))
	if n := len(List(err)); n != 4 {
		t.Errorf("%d findings, want 4", n)
	}
	got := Grouped(err)
	if len(got) != 2 || got[0].Error() != "a:1 and 2 more: too small" || got[1].Error() != "a:2: no unit" {
		t.Errorf("%v", got)
	}
	if List(err)[0].Where != "a:1" {
		t.Error("grouping changed the findings")
	}
	if Grouped(nil) != nil {
		t.Error("no error has findings")
	}
}
