package act

import (
	"testing"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/wire"
)

// shop is a device with the real worker and one session of a player, from which
// its record of the head can be learned.
func shop(t *testing.T, player string, carry float64) *rig {
	r, _ := realRig(t)
	r.Sessions.Example("demo")
	r.Loop.Settle()
	s := Clone(*r.State().Session)
	s.ID, s.Player.Name = "of "+player, player
	for _, h := range s.Shots {
		h.Values[shot.Carry] += carry
	}
	blob, err := store.Encode(s)
	if err != nil {
		t.Fatal(err)
	}
	r.Library.Restore(blob)
	r.rest()
	r.Sessions.Open(s.ID)
	r.rest()
	r.Heads.Learn(r.State().Session.OwnClub())
	r.rest()
	return r
}

func (r *rig) record(t *testing.T) *HeadRecord {
	t.Helper()
	_, k := r.Heads.Of(r.State().Session.OwnClub())
	if k == nil {
		t.Fatalf("nothing is kept: %+v", r.State().Records)
	}
	return k
}

func (r *rig) backup() (file []byte) {
	r.Library.Backup(func(b []byte) { file = b })
	r.rest()
	return file
}

// takes has r take the record that another shop has saved.
func (r *rig) takes(file []byte) {
	r.Heads.Open(r.State().Session.OwnClub(), file)
	r.rest()
	r.Heads.AnswerOffer(true)
	r.rest()
}

func (r *rig) saved() (file []byte) {
	r.Heads.Save(r.State().Session.OwnClub(), func(b []byte) { file = b })
	r.rest()
	return file
}

// What was taken of heads travels with a backup, and nothing of it counts twice:
// not the backup read again, not the record that came another way, not the balls
// of the other device's own players.
func TestABackupBringsTheRecordsOfHeads(t *testing.T) {
	a, b := shop(t, "Ann", 1), shop(t, "Ben", 3)
	a.takes(b.saved())
	theirs := a.record(t).Theirs
	if theirs == 0 || len(a.record(t).Taken) == 0 {
		t.Fatalf("Ben's shop taught nothing: %+v", a.State().Records)
	}
	file := a.backup()
	fresh, _ := realRig(t)
	fresh.Files.Open("backup.bin", file)
	if g := fresh.State().Reading; g.Backup == nil || g.Backup.Records != 1 || len(fresh.Heads.records) != 0 {
		t.Fatalf("unasked: %+v, %d kept", g.Backup, len(fresh.Heads.records))
	}
	fresh.Files.TakeBackup()
	fresh.rest()
	if n := fresh.State().Notice; n.Key != "notice.restored-records" || n.Args[1].Value != 1 {
		t.Errorf("said: %+v", n)
	}
	fresh.Sessions.Open("of Ann")
	fresh.rest()
	if k := fresh.record(t); k.Theirs != theirs || len(k.People) != 0 {
		t.Errorf("%g players were taken, want %g; of this device %d", k.Theirs, theirs, len(k.People))
	}
	was := string(fresh.record(t).Taken)
	same := func(when string) {
		t.Helper()
		if k := fresh.record(t); k.Theirs != theirs || string(k.Taken) != was {
			t.Errorf("%s: %g players, want %g", when, k.Theirs, theirs)
		}
	}
	fresh.Library.Restore(file)
	fresh.rest()
	same("the backup again")
	fresh.takes(b.saved())
	same("the record of the other shop itself")
	fresh.Library.Restore(b.backup()) // Ben's session: his balls are in the record
	fresh.rest()
	fresh.Heads.Learn(fresh.State().Session.OwnClub())
	fresh.rest()
	q := wire.Learn{OfHead: wire.OfHead{Head: fresh.record(t).Head, Record: fresh.record(t).Taken}}
	for _, p := range fresh.record(t).People {
		q.Parts = append(q.Parts, p.Part)
	}
	var players float64
	fresh.Heads.learnt(q, func(l wire.Learned) { players = l.Players })
	fresh.rest()
	if players != theirs+1 {
		t.Errorf("%g players together, want the %g that were taken and Ann", players, theirs)
	}
	again := New(Deps{Worker: fresh.Loop.deps.Worker, Pocket: fresh.Loop.deps.Pocket})
	if _, k := again.Heads.Of(fresh.State().Session.OwnClub()); k == nil || string(k.Taken) != was {
		t.Error("after a new start the record is another")
	}
	for _, h := range fresh.State().Sessions.Entries {
		fresh.Library.Delete(h.ID)
		fresh.rest()
	}
	bare, _ := realRig(t)
	if bare.Heads.HasTaken() || !fresh.Heads.HasTaken() || len(fresh.State().Sessions.Entries) > 0 {
		t.Errorf("what a backup would hold: %v without records, %v with them", bare.Heads.HasTaken(), fresh.Heads.HasTaken())
	}
	bare.Library.Restore(fresh.backup())
	bare.rest()
	if !bare.Heads.HasTaken() {
		t.Error("a backup of records alone brings none")
	}
}

// A record that cannot be added is kept aside and said; the sessions are read, and
// what is kept of its head stays.
func TestARecordOfABackupThatCannotBeAdded(t *testing.T) {
	a, b := shop(t, "Ann", 1), shop(t, "Ben", 3)
	a.takes(b.saved())
	bad := *a.record(t)
	bad.Taken = append([]byte{}, bad.Taken...)
	bad.Taken[len(bad.Taken)/2] ^= 1
	damaged, err := msgpack.Marshal(&bad)
	if err != nil {
		t.Fatal(err)
	}
	wide := HeadRecord{Head: club.Head{Weights: make([]club.Weight, 1000)}}
	hostile, err := msgpack.Marshal(&wide)
	if err != nil {
		t.Fatal(err)
	}
	file, err := a.memory.Export(t.Context(), damaged, hostile, []byte{0x01})
	if err != nil {
		t.Fatal(err)
	}
	was := string(a.record(t).Taken)
	for range 2 {
		a.Library.Restore(file)
		a.rest()
	}
	if n := a.State().Notice; n.Key != "error.record-spoilt" || !n.Alert || string(a.record(t).Taken) != was {
		t.Errorf("%+v", n)
	}
	if aside := a.Loop.deps.Pocket.Keys(spoiltKey); len(aside) != 3 {
		t.Errorf("put aside: %q, want three, each once", aside)
	}
	fresh, _ := realRig(t)
	fresh.Library.Restore(file)
	fresh.rest()
	if n := len(fresh.State().Sessions.Entries); n != len(a.State().Sessions.Entries) {
		t.Errorf("%d sessions were read", n)
	}
}
