package main

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"
	"runtime"
	"slices"
	"strings"
)

// Where Go 1.26 keeps what it knows of functions. Source: the Go source,
// src/runtime/symtab.go (pcHeader, functab), src/runtime/runtime2.go (_func),
// src/internal/abi/symtab.go; all numbers little-endian.
const (
	release = "go1.26"
	// pcHeader: magic, two zero bytes, least instruction 1, pointer size 8; then
	// eight words: functions, files, start of code, and where the names, units,
	// files, pc tables and functions begin, from the header on.
	headerStart = "\xf1\xff\xff\xff\x00\x00\x01\x08"
	headerSize  = 8 + 8*8
	// _func: offsets of the fields that are used here.
	funcName, funcSP, funcFile, funcCount, funcUnit, funcStart, funcData, funcSize = 4, 16, 20, 28, 32, 36, 43, 44
	// moduledata: the word of findfunctab; the least pc follows.
	moduleFind = 19
)

// What the runtime needs no table of: pc tables of where a thread may be
// interrupted by a signal, which a browser does not have, and of which
// arguments are still alive; data on arguments. The latter two are for printing
// a stack (src/runtime/preempt.go, traceback.go).
var (
	idlePC   = []int{0, 3} // PCDATA_UnsafePoint, PCDATA_ArgLiveIndex
	idleData = []int{5, 6} // FUNCDATA_ArgInfo, FUNCDATA_ArgLiveInfo
)

const (
	stackMaps = 1          // PCDATA_StackMapIndex
	none      = ^uint32(0) // the place of data that is not there
)

// span is how many pcs a function has on wasm, at most: a pc is the number of
// the function in its upper and of the block in its lower sixteen bits.
const span = 1 << 16

// together is how many functions begin their search at one place of the table
// by which the runtime finds a function (findfunc in src/runtime/symtab.go): it
// goes on from there step by step, so that one number does for all of them.
const together = 16

// strides are what records of functions begin at a multiple of, the first that
// has room enough: their places then differ in fewer bytes.
var strides = []int{64, 4}

// spoken are the functions that the runtime knows by name, when it looks for
// pointers in their arguments (src/runtime/stkframe.go, argMapInternal).
var spoken = []string{"reflect.makeFuncStub", "reflect.methodValueCall"}

// kept reports whether the name of a function stays: the runtime's, and ours,
// so that what is printed of a stack at a fault still says where it was.
func kept(name string) bool {
	return strings.HasPrefix(name, "ferrule/") || strings.HasPrefix(name, "main.") || slices.Contains(spoken, name)
}

// tables is where each table lies in the memory.
type tables struct {
	names, units, files, pcs, functions []byte
	buckets                             []byte // where findfunc begins to search
	count                               int
	first                               uint32 // the number of the first function
}

// bucketSize is sizeof(findfuncbucket), of 4096 pcs; its first four bytes are
// the number of a function.
const (
	bucketSize = 20
	bucketPCs  = 4096
)

// find looks for the tables. There must be exactly one header that fits, and
// one moduledata that begins with where it and the names are.
func find(memory []byte) (tables, error) {
	var t tables
	at := bytes.Index(memory, []byte(headerStart))
	if at < 0 || at+headerSize > len(memory) || bytes.Contains(memory[at+1:], []byte(headerStart)) {
		return t, errors.New("not where " + release + " has them")
	}
	var word [8]int
	for i := range word {
		word[i] = int(binary.LittleEndian.Uint64(memory[at+8+8*i:]))
	}
	last := headerSize
	for _, w := range word[3:] {
		if w < last || at+w > len(memory) {
			return t, errors.New("not in the order of " + release)
		}
		last = w
	}
	cut := func(i int) []byte { return memory[at+word[i] : at+word[i+1]] }
	t = tables{cut(3), cut(4), cut(5), cut(6), memory[at+word[7]:], nil, word[0], 0}

	begin := binary.LittleEndian.AppendUint64(binary.LittleEndian.AppendUint64(nil, uint64(at)), uint64(at+word[3]))
	m := bytes.Index(memory, begin)
	if m < 0 || m%8 != 0 || m+8*(moduleFind+2) > len(memory) || bytes.Contains(memory[m+1:], begin) {
		return t, errors.New("moduledata is not that of " + release)
	}
	find, pc := int(binary.LittleEndian.Uint64(memory[m+8*moduleFind:])), binary.LittleEndian.Uint64(memory[m+8*moduleFind+8:])
	size := (t.count-1)*span/bucketPCs*bucketSize + 4 // up to the first bucket of the last function
	if pc%span != 0 || find < at || find+size > len(memory) {
		return t, errors.New("moduledata is laid out in another way")
	}
	t.buckets, t.first = memory[find:find+size], uint32(pc/span)
	for i := 0; i < len(t.buckets); i += bucketSize {
		if binary.LittleEndian.Uint32(t.buckets[i:]) > uint32(i/bucketSize*bucketPCs/span) {
			return t, errors.New("the table by which functions are found is another")
		}
	}
	return t, nil
}

// lighten empties the tables of lines and names in place, and writes shorter
// ones of the stack. With an error the memory is as it was.
func lighten(memory []byte) error {
	if !strings.HasPrefix(runtime.Version(), release) {
		return fmt.Errorf("they are known for %s, this is %s", release, runtime.Version())
	}
	t, err := find(memory)
	if err != nil {
		return err
	}
	functions, end, err := t.all()
	if err != nil {
		return err
	}
	names := make([]byte, len(t.names))
	for _, f := range functions {
		at := binary.LittleEndian.Uint32(f.record[funcName:])
		if name := nameAt(t.names, at); kept(name) {
			copy(names[at:], name)
		} else {
			clear(f.record[funcName : funcName+4]) // offset 0 is the empty name
		}
	}
	pcs, err := t.shorten(functions)
	if err != nil {
		return err
	}
	if len(pcs) > len(t.pcs) {
		return errors.New("the pc tables would grow")
	}
	places, records, err := t.lay(functions, end)
	if err != nil {
		return err
	}
	copy(t.names, names)
	clear(t.pcs)
	copy(t.pcs, pcs)
	for i, at := range places {
		binary.LittleEndian.PutUint32(t.functions[8*i+4:], at)
	}
	copy(t.functions[8*t.count+8:], records)
	for at := 0; at < len(t.buckets); at += bucketSize {
		first := binary.LittleEndian.Uint32(t.buckets[at:])
		binary.LittleEndian.PutUint32(t.buckets[at:], first-first%together)
	}
	clear(t.units)
	clear(t.files)
	return nil
}

// function is what the tables hold of one function: a copy of its record, the
// pc table of its stack, its other pc tables and its data.
type function struct {
	record    []byte
	stack     uint32
	pcs, data []uint32
}

// all are the functions. Each record must lie where the table of functions
// says, begin with the same entry and follow on the one before: so a release
// with another layout is noticed. end is where the last record ends.
func (t tables) all() (out []function, end int, err error) {
	end = 8*t.count + 8
	for i := range t.count {
		if 8*i+8 > len(t.functions) {
			return nil, 0, errors.New("cut short")
		}
		entry, at := t.functions[8*i:8*i+4], int(binary.LittleEndian.Uint32(t.functions[8*i+4:]))
		if at < end || at >= end+8 || at+funcSize > len(t.functions) || !bytes.Equal(entry, t.functions[at:at+4]) {
			return nil, 0, errors.New("records of functions are laid out in another way")
		}
		if binary.LittleEndian.Uint32(entry) != t.first+uint32(i) {
			return nil, 0, errors.New("functions are not numbered one by one")
		}
		f := function{record: bytes.Clone(t.functions[at : at+funcSize])}
		rest := t.functions[at+funcSize:]
		pcs, data := 4*int(binary.LittleEndian.Uint32(f.record[funcCount:])), 4*int(f.record[funcData])
		if pcs > 64 || data > 64 || pcs+data > len(rest) {
			return nil, 0, errors.New("records of functions are of another size")
		}
		for k := 0; k < pcs; k += 4 {
			f.pcs = append(f.pcs, binary.LittleEndian.Uint32(rest[k:]))
		}
		for k := pcs; k < pcs+data; k += 4 {
			f.data = append(f.data, binary.LittleEndian.Uint32(rest[k:]))
		}
		f.stack = binary.LittleEndian.Uint32(f.record[funcSP:])
		end = at + funcSize + pcs + data
		out = append(out, f)
	}
	return out, end, nil
}

// lay are the records without what is dropped, each as long as it must be, and
// their places in the table of functions; they end where the old ones did.
func (t tables) lay(functions []function, end int) (places []uint32, records []byte, err error) {
	written := make([][]byte, len(functions))
	for i, f := range functions {
		r := bytes.Clone(f.record)
		clear(r[funcFile:funcCount])
		clear(r[funcUnit : funcStart+4])
		for _, k := range idleData {
			if k < len(f.data) {
				f.data[k] = none
			}
		}
		pcs, data := cutEnd(f.pcs, 0), cutEnd(f.data, none)
		binary.LittleEndian.PutUint32(r[funcSP:], f.stack)
		binary.LittleEndian.PutUint32(r[funcCount:], uint32(len(pcs)))
		r[funcData] = byte(len(data))
		for _, v := range slices.Concat(pcs, data) {
			r = binary.LittleEndian.AppendUint32(r, v)
		}
		written[i] = r
	}
	begin := 8*t.count + 8
	for _, stride := range strides {
		places, records = nil, nil
		for _, r := range written {
			for (begin+len(records))%stride != 0 {
				records = append(records, 0)
			}
			places = append(places, uint32(begin+len(records)))
			records = append(records, r...)
		}
		if more := end - begin - len(records); more >= 0 {
			return places, append(records, make([]byte, more)...), nil
		}
	}
	return nil, nil, errors.New("records of functions would grow")
}

// cutEnd is list without the last ones that are v.
func cutEnd(list []uint32, v uint32) []uint32 {
	for len(list) > 0 && list[len(list)-1] == v {
		list = list[:len(list)-1]
	}
	return list
}

// shorten returns the pc tables that the runtime works with, stack sizes and
// maps, and sets their places in the functions. Each last value holds up to the
// last pc that a function may have, and the map "before the first call", -1, is
// said as what the runtime takes it for, 0 (getStackMap in
// src/runtime/stkframe.go): so many functions share one table. Those that most
// share come first.
func (t tables) shorten(functions []function) ([]byte, error) {
	type asked struct {
		at    uint32
		least int32
	}
	known, uses := map[asked]string{}, map[string]int{}
	each := func(f func(place *uint32, least int32)) {
		for i := range functions {
			f(&functions[i].stack, -1)
			for k := range functions[i].pcs {
				switch {
				case slices.Contains(idlePC, k):
					functions[i].pcs[k] = 0
				case k == stackMaps:
					f(&functions[i].pcs[k], 0)
				default:
					f(&functions[i].pcs[k], -1)
				}
			}
		}
	}
	var err error
	each(func(place *uint32, least int32) {
		read, e := t.runs(*place, least)
		err = cmp.Or(err, e)
		if len(read) == 1 && read[0].value == 0 && least == 0 {
			read = nil // no table says -1
		}
		table := string(read.bytes())
		known[asked{*place, least}] = table
		uses[table]++
	})
	if err != nil {
		return nil, err
	}
	out, places := []byte{0}, map[string]uint32{"": 0}
	for _, table := range slices.SortedFunc(maps.Keys(uses), func(a, b string) int { return cmp.Or(uses[b]-uses[a], strings.Compare(a, b)) }) {
		if table != "" {
			places[table] = uint32(len(out))
			out = append(out, table...)
		}
	}
	each(func(place *uint32, least int32) { *place = places[known[asked{*place, least}]] })
	return out, nil
}

// runs is a pc table taken apart: a value, and for how many pcs it holds.
type runs []struct {
	value int32
	pcs   uint32
}

// runs reads the table at a place, 0 = none. Values below least become least.
func (t tables) runs(at uint32, least int32) (out runs, err error) {
	if at == 0 {
		return nil, nil
	}
	rest := t.pcs[min(int(at), len(t.pcs)):]
	number := func() uint32 {
		v, n := binary.Uvarint(rest)
		if n <= 0 {
			err, n = errors.New("a pc table is cut short"), len(rest)
		}
		rest = rest[n:]
		return uint32(v)
	}
	value, left := int32(-1), uint32(span)
	for first := true; ; first = false {
		// A difference of values, 0 at the end, and one of pcs.
		u := number()
		if err != nil || u == 0 && !first {
			break
		}
		value += int32(-(u & 1) ^ u>>1)
		pcs := number()
		if pcs > left {
			return nil, errors.New("a pc table reaches beyond its function")
		}
		left -= pcs
		if v := max(value, least); len(out) > 0 && out[len(out)-1].value == v {
			out[len(out)-1].pcs += pcs
		} else {
			out = append(out, runs{{v, pcs}}...)
		}
	}
	if err == nil && len(out) > 0 {
		out[len(out)-1].pcs += left
	}
	return out, err
}

// bytes is the table as the runtime reads it.
func (r runs) bytes() (out []byte) {
	value := int32(-1)
	for _, x := range r {
		d := x.value - value
		out = binary.AppendUvarint(out, uint64(uint32(d<<1^d>>31)))
		out = binary.AppendUvarint(out, uint64(x.pcs))
		value = x.value
	}
	if len(r) > 0 {
		out = append(out, 0)
	}
	return out
}

// nameAt is the name that begins at a place of the table of names, up to its
// zero byte.
func nameAt(names []byte, at uint32) string {
	if int(at) >= len(names) {
		return ""
	}
	b := names[at:]
	if n := bytes.IndexByte(b, 0); n >= 0 {
		b = b[:n]
	}
	return string(b)
}
