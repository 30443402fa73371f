// Program probe leans on what the runtime reads in its tables: stacks that
// grow and move, garbage collections in the middle, reflection's calls, a
// panic that is caught and a stack that is printed.
package main

import (
	"fmt"
	"reflect"
	"runtime"
	"runtime/debug"
	"strings"
)

type node struct {
	next *node
	word string
}

func (n node) Word() string { return n.word }

//go:noinline
func deep(n int, last *node) (*node, int) {
	here := [32]*node{{next: last, word: fmt.Sprint(n)}}
	if n%500 == 0 {
		runtime.GC()
	}
	if n == 0 {
		return here[0], 0
	}
	list, sum := deep(n-1, here[0])
	return list, sum + len(here[0].word)
}

func main() {
	list, sum := deep(5000, nil)
	count := 0
	for n := list; n != nil; n = n.next {
		count++
	}
	twice := reflect.MakeFunc(reflect.TypeFor[func(*node) string](), func(in []reflect.Value) []reflect.Value {
		runtime.GC()
		return []reflect.Value{reflect.ValueOf(strings.Repeat(in[0].Interface().(*node).word, 2))}
	}).Interface().(func(*node) string)
	word := reflect.ValueOf(node{word: "method"}).Method(0).Interface().(func() string)
	done := make(chan string)
	go func() {
		defer func() {
			fault := fmt.Sprint(recover())
			done <- fault + ", told " + fmt.Sprint(strings.Contains(string(debug.Stack()), "main.fall"))
		}()
		fall(nil)
	}()
	fmt.Println(count, sum, twice(&node{word: "ab"}), word(), <-done)
}

//go:noinline
func fall(n *node) { fmt.Println(n.next.word) }
