package share

// A range coder writes symbols of unequal chance in little more than their
// information (Martin 1979, "Range encoding"; with the carry handled as in the
// public-domain coders since). A shared interval [low, low+size) shrinks to a
// symbol's part of it; leading bytes that can't change any more are written.
const rangeTop = 1 << 24

type rangeWriter struct {
	low   uint64 // 33 bits: the 33rd is the carry
	size  uint32
	cache byte
	held  int // bytes that wait for a carry: the cache and 0xff after it
	begun bool
	out   []byte
}

func newRangeWriter() *rangeWriter { return &rangeWriter{size: 1<<32 - 1} }

func (e *rangeWriter) shift() {
	if e.low < 0xff000000 || e.low>>32 != 0 {
		carry := byte(e.low >> 32)
		if e.begun {
			e.out = append(e.out, e.cache+carry)
		}
		for ; e.held > 0; e.held-- {
			e.out = append(e.out, 0xff+carry)
		}
		e.begun, e.cache = true, byte(e.low>>24)
	} else {
		e.held++
	}
	e.low = e.low << 8 & 0xffffffff
}

// symbol writes what takes [from, from+share) of total, total <= 65536.
func (e *rangeWriter) symbol(from, share, total uint32) {
	part := e.size / total
	e.low += uint64(from) * uint64(part)
	e.size = part * share
	for e.size < rangeTop {
		e.size <<= 8
		e.shift()
	}
}

// put writes the lowest n bits of v.
func (e *rangeWriter) put(v uint64, n int) {
	for i := n - 1; i >= 0; i-- {
		e.symbol(uint32(v>>i&1), 1, 2)
	}
}

// spare is how many zero bytes at the end may be left away: the reader takes
// zeros for what is not there, but not for ever.
const spare = 4

// end closes the interval with as few bytes as it allows: the roundest number
// inside is taken, and zeros at the end are left away.
func (e *rangeWriter) end() []byte {
	last := e.low + uint64(e.size) - 1
	for k := 32; k >= 0; k-- {
		mask := uint64(1)<<k - 1
		if v := (e.low + mask) &^ mask; v <= last {
			e.low = v
			break
		}
	}
	for range 5 {
		e.shift()
	}
	out := e.out
	for n := 0; n < spare && len(out) > 0 && out[len(out)-1] == 0; n++ {
		out = out[:len(out)-1]
	}
	return out
}

type rangeReader struct {
	b    []byte
	at   int
	size uint32
	code uint32
	over int // bytes taken after the end
	failure
}

func newRangeReader(b []byte) *rangeReader {
	d := &rangeReader{b: b, size: 1<<32 - 1}
	for range 4 {
		d.code = d.code<<8 | uint32(d.next())
	}
	return d
}

func (d *rangeReader) next() byte {
	if d.at < len(d.b) {
		d.at++
		return d.b[d.at-1]
	}
	d.over++
	return 0
}

// place says where in total the next symbol lies; take then takes it.
func (d *rangeReader) place(total uint32) uint32 {
	return min(d.code/(d.size/total), total-1)
}

func (d *rangeReader) take(from, share, total uint32) {
	part := d.size / total
	d.code -= from * part
	d.size = part * share
	for d.size < rangeTop {
		d.size <<= 8
		d.code = d.code<<8 | uint32(d.next())
	}
}

func (d *rangeReader) get(n int) uint64 {
	v := uint64(0)
	for ; n > 0; n-- {
		if d.over > spare {
			d.fail("it ends too early")
			return 0
		}
		b := d.place(2)
		d.take(b, 1, 2)
		v = v<<1 | uint64(b)
	}
	return v
}

// flags write which of n shots have something: how many, and then each with
// the chance that is left for it, so that none and all cost nothing.
func (f *flow) flags(n int, of []bool) {
	ones := 0
	for _, v := range of {
		if v {
			ones++
		}
	}
	few := ones*2 <= n
	f.bool(&few)
	rare := ones // how many are of the rarer kind
	if !few {
		rare = n - ones
	}
	f.int(&rare, 0)
	if rare > n {
		f.r.fail("%d of %d", rare, n)
		return
	}
	for i := range of {
		left := uint32(n - i)
		one := uint32(rare)
		if one == 0 || one == left { // certain
			if f.r != nil {
				of[i] = (one > 0) == few
			}
		} else if f.w != nil {
			if of[i] == few {
				f.w.symbol(0, one, left)
			} else {
				f.w.symbol(one, left-one, left)
			}
		} else if is := f.r.place(left) < one; is {
			f.r.take(0, one, left)
			of[i] = few
		} else {
			f.r.take(one, left-one, left)
			of[i] = !few
		}
		if of[i] == few {
			rare--
		}
	}
}

// shapes are how often a rest falls into a bin, out of 4096: beyond the bins
// (either side), in the middle one, and in each one off it, per side. They are
// bell shapes with a few wide ones mixed in, for mis-hits: 0.93 N(0, s) + 0.07
// N(0, 2.5 s) with s of 2, 1.4, 0.9, 0.5 and 0.2 bins. Part of version 1.
var shapes = [5][9]uint32{
	{39, 775, 688, 482, 269, 123, 49, 20, 10},
	{9, 1097, 864, 427, 140, 38, 14, 8, 4},
	{6, 1646, 966, 206, 31, 11, 4, 2, 2},
	{6, 2668, 665, 32, 6, 2, 2, 2, 2},
	{6, 3928, 69, 2, 2, 2, 2, 2, 2},
}

const (
	shapeTotal = 4096
	sideBins   = 7 // bins on either side of the middle one
)

// bins are the widths of a bin [steps] that a column may have. Part of version 1.
var binWidths = func() (ws []int64) {
	for e := 0; len(ws) < 64; e++ {
		for _, m := range []int64{4, 5, 6, 7} {
			if w := m << e / 4; len(ws) < 64 && m<<e%4 == 0 {
				ws = append(ws, w)
			}
		}
	}
	return ws
}()

// binOf splits a rest into its bin, off the middle one, and what is left in it.
func binOf(rest, width int64) (bin, left int64) {
	x := rest + width/2
	bin = x / width
	if x%width < 0 {
		bin--
	}
	return bin, x - bin*width
}

// partOf is where bin stands in shape s: escape first, then from the left.
func partOf(s *[9]uint32, bin int64) (from, share uint32) {
	from = s[0]
	for b := int64(-sideBins); b <= sideBins; b++ {
		share = s[1+max(b, -b)]
		if b == bin {
			return from, share
		}
		from += share
	}
	return 0, s[0]
}

func (e *rangeWriter) rest(v int64, shape int, width int64) {
	bin, left := binOf(v, width)
	from, share := partOf(&shapes[shape], bin)
	e.symbol(from, share, shapeTotal)
	if bin < -sideBins || bin > sideBins { // escaped: how far beyond, and which side
		side, beyond := uint64(0), bin-sideBins-1
		if bin < 0 {
			side, beyond = 1, -bin-sideBins-1
		}
		e.put(side, 1)
		out{e}.golomb(uint64(beyond), 1)
	}
	e.uniform(left, width)
}

// uniform writes one of width numbers of equal chance; a wide one in two parts.
func (e *rangeWriter) uniform(v, width int64) {
	if width > 1<<16 {
		e.uniform(v>>16, (width-1)>>16+1)
		v, width = v&0xffff, 1<<16
	}
	if width > 1 {
		e.symbol(uint32(v), 1, uint32(width))
	}
}

func (d *rangeReader) rest(shape int, width int64) (int64, bool) {
	s := &shapes[shape]
	at := d.place(shapeTotal)
	bin, from, share := int64(0), uint32(0), s[0]
	if at >= s[0] {
		from = s[0]
		for bin = -sideBins; ; bin++ {
			if share = s[1+max(bin, -bin)]; at < from+share || bin == sideBins {
				break
			}
			from += share
		}
	}
	d.take(from, share, shapeTotal)
	if at < s[0] {
		side, beyond := d.get(1), in{d}.golomb(1)
		if d.err != nil || beyond > 1<<40 {
			return 0, false
		}
		if bin = int64(beyond) + sideBins + 1; side == 1 {
			bin = -bin
		}
	}
	left := d.uniform(width)
	if bin > maxValue/width || bin < -maxValue/width {
		return 0, false
	}
	return bin*width + left - width/2, true
}

func (d *rangeReader) uniform(width int64) int64 {
	high := int64(0)
	if width > 1<<16 {
		high = d.uniform((width-1)>>16+1) << 16
		width = 1 << 16
	}
	if width <= 1 {
		return high
	}
	v := d.place(uint32(width))
	d.take(v, 1, uint32(width))
	return high + int64(v)
}
