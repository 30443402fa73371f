package record_test

import (
	"fmt"

	"ferrule/core/club"
	"ferrule/core/record"
)

// What two players' balls say of one head is kept as sums. Which sessions it knows is
// told, so that none is taken twice.
func ExampleRecord_Add() {
	r := record.New(club.Example())
	player := record.Player{Features: []int{0}, Info: make([]float64, 25), Vec: make([]float64, 5), Seen: []uint64{17}}
	for k := range 5 {
		player.Info[k*5+k], player.Vec[k] = 4, 2
	}
	fmt.Println(r.Add(player), r.Players)
	player.Seen = []uint64{18}
	fmt.Println(r.Add(player), r.Players)
	fmt.Println(r.Knows(17), r.Knows(19))
	// Output:
	// <nil> 1
	// <nil> 2
	// true false
}
