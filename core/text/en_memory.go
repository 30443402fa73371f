package text

// What was learned before a session: earlier visits of the player, the record of
// the head.
const enMemory = `memory.adds: {0} {0:ball|balls}, worth {1} of today’s
memory.other-hand: left out: the player is of the other hand
memory.other-player: left out: another player
memory.other-head: left out: another head ({0})
memory.known: left out: its balls are counted already
memory.unusable: left out: {0}
memory.visits: Balls of {0} earlier {0:visit|visits} count too.
memory.players: What {0} other {0:player|players} hit counts too.
memory.both: Balls of {0} earlier {0:visit|visits} count too, and what {1} other {1:player|players} hit.
memory.empty: left out: it holds nobody’s balls yet
memory.record: learned from {0} {0:player|players} with this head
memory.record.gave-way: learned from {0} {0:player|players} with this head; your balls say otherwise, so it counts for little
`
