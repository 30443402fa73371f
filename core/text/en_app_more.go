package text

// The words of shots, files, comparison, choice, sheet and what is around.
const enAppMore = `shots.lead: What did you hit? Type it, open a file or paste it.
entry.title: Type a ball
entry.add: Add
entry.said: So far: {0}
entry.fields: Choose what you type
entry.fields-hint: Carry and side are enough to begin; each further number sharpens the answer.
entry.more: More numbers
entry.less: Carry and side only
entry.which-side: Left or right? Tap the key.
entry.odd: {0} {1}: is that right? Likely is {2} to {3}.
entry.odd-keep: Yes, keep it
entry.odd-correct: Correct it
range.start: Begin with three to six balls as the club is set today.
range.check: Check: {0}
range.until: {0} more {0:ball|balls} until something can be said
range.set: Set the club to {0}
range.is-set: It is set
range.other: Another setting
range.wrong-side: Wrong side
entry.nothing: Type one number at least.
key.pad: Number keys
key.for: Keys type: {0}
key.mark: decimal mark
key.back: delete one
key.minus: minus
key.left: Left
key.right: Right
key.next: Next
voice.speak: Speak
voice.listening: Listening. Carry, then left or right: “two four five right twelve”.
voice.again: Say it again
voice.gone: This browser recognises no speech on this device in this language. Type the ball.
voice.keep: Keep this ball
voice.unclear: Heard “{0}”. That is no carry and side, so nothing was entered.
voice.none: Nothing was understood. Say it again, or type it.
voice.denied: The browser does not let the microphone be used. Allow it for this page in the browser’s settings.
voice.fetch: Fetch speech recognition
error.needed: Needed: type a number.
error.number: Read “{0}”, expected a number such as 67.5.
error.range: Read “{0}”, expected {1} to {2} {3}.
error.value: Read “{0}”, expected a number from {1} to {2}.
error.side: Read “{0}”, expected a number with L or R, such as 12 R, up to {2}.
files.title: From a file
files.what: CSV, text or XLSX. You see how it was understood before it is used.
files.paste: Paste
files.paste-here: Paste rows here, with their header line
files.pasted: Pasted
files.read: Read it
files.few: Few columns are enough. More of them (launch, spin, club speed) sharpen the answer.
file.title: File: {0}
file.reading: Reading
file.failed: This cannot be used: {0}
file.unchanged: Your session is as it was.
file.found: Found {0}; settings named: {1}.
file.accept: Use {0}
file.no-balls: No ball was found
file.known: In this session already, and left as they are: {0}.
file.drop: Do not use it
file.undo: Take the last change back
file.clubs: Clubs in the file
file.clubs-hint: Tap the clubs whose balls belong to this session. The others are left out.
file.no-club: (no club named)
file.open-first: Answer the open questions first
file.accept-new: New session with {0}
file.accept-into: Add {0} to the open session
file.whose-open: Open session: {0} · {1}
file.whose-file: This file: {0} · {1}
file.nobody: player not named
file.parts: Time line
file.parts-hint: One tap says how the club was set from there on.
file.part: Balls {0} to {1} · {2}
file.part-set: From here on
file.split-wrong: Read {0}, expected balls such as 7 or 7-12, at most {1}
file.split-do: Cut
file.split: Cut at balls
file.why-units: in other units
file.why-gap: after a pause
file.parts-more: Show more of the {0} other parts
file.cells: In the file: {0}
file.written: In the file: {0} · understood: {1}
file.ask: Please look at this first:
file.repaired: The file contradicts itself here. This is how it is read; one tap changes it.
file.notes: What was assumed
file.errors: What could not be read: {0}
file.row: Line {0}, {1}: {2}
file.whole-row: the whole row
file.settings: Settings in the file
file.settings-hint: Say which setting of your club each name stands for.
file.as-written: as written in the file
file.same-as: the same as “{0}”
file.unnamed: (no setting named)
file.name: {0} · {1}
file.columns: Columns as understood
file.columns-hint: Correct what is wrong; the file is read again at once.
file.means: It is
file.unit: Unit
file.flip: Left is right in this file
file.ignored: not used
file.no-header: (no header)
file.remembered: Columns as you corrected them for the last file like this.
file.forget: Read it without corrections
file.waiting: Files after this one, {0}: {1}
file.own: A session saved by this program: {0}, {1}.
file.backup: A backup: {0} {0:session|sessions}, {1} {1:ball|balls}, {2} {2:club|clubs}.
file.backup-records: With it, what was learned of {0} {0:head|heads}.
file.keep-backup: Keep all of it
file.keep-it: Nothing of it is stored yet. Keep it?
file.open-own: Open the session
role.setting: setting
role.sleeve: sleeve position
role.weight: weight position
role.ball: ball
role.time: date or time
role.number: number of the shot
role.tag: remark
role.club: club
role.player: player
role.session: session or day
role.note: note
role.temperature: temperature of the air
role.pressure: air pressure
role.humidity: humidity
role.altitude: altitude
role.wind: wind speed
role.wind-from: where the wind comes from
role.id: name of the ball in the file
role.hand: hand of the player
role.quality: how a number was measured
role.skip: something of no use here
role.assumed: what the device worked out
role.source: the file of the shot
role.line: the line of the file
role.side: side of another column
error.file-large: it is larger than 12 MB; a shot file is far smaller.
error.file-empty: nothing was found in it.
balls.title: Balls
balls.none: No balls yet
balls.none-do: Type the first one, or open a file.
balls.more: Show {0} earlier balls
balls.out: Left out: {0}
balls.count: {0}. Tap one to see why it is marked, or to correct it.
balls.findings: About the whole session
balls.from: From {0}, line {1}
balls.tag: What was it?
balls.note: Note
thought.easy: easy swing
thought.hard: hard swing
thought.tired: tired
balls.setting: How was the club set?
balls.run-set: Choose how the club was set for these balls
balls.onward: also the balls after it, up to the next change
balls.values: Its numbers
balls.earlier: Move it one earlier
balls.later: Move it one later
balls.remove: Remove
tag.: nothing said
tag.mis-hit: mis-hit
tag.toe: off the toe
tag.heel: off the heel
tag.high: high on the face
tag.low: low on the face
tag.good: it counts
tag.out: leave it out
tag.warmup: warm-up
status.counted: counted
status.mis-hit: mis-hit
status.suspect: doubtful
status.impossible: wrong record
status.left-out: left out
compare.lead: Is the difference real?
compare.reference: Compared with
compare.reference-is: The setting that all others are compared with
compare.reference-hint: It is the club as it is set today, before anything is changed.
compare.shown: Shown beside {0}
compare.air: Balls
compare.air-answer: in the air of the answer
compare.air-measured: as measured
compare.words: Against {0}
compare.tested: Hit with {0}.
compare.untested: Not hit: predicted.
compare.mishits: Mis-hits among them: {0}.
compare.carry-same: Carries as far; anywhere from {0} {1} to {2} {3} is believable.
compare.side-same: Lands on the same line; anywhere from {0} {1} to {2} {3} is believable.
compare.carry-is: Carries {0} {1}; anywhere from {2} {3} to {4} {5} is believable.
compare.side-is: Lands {0} more to the {1}; anywhere from {2} {3} to {4} {5} is believable.
compare.farther: farther
compare.shorter: shorter
compare.told-apart: That is almost surely a real difference.
compare.likely-apart: That is likely a real difference.
compare.setting: Setting
compare.balls: Balls
compare.average: Average
compare.plain-difference: Against today’s
compare.scatter: Ball to ball
compare.averages: Plain averages of your balls
compare.averages-of: {0}: plain averages, physics and order left aside
compare.averages-what: In brackets: the range that holds 8 times in 10, from the scatter of all settings together. The ranges of the differences hold for all settings looked at, not for one alone (Dunnett). The highest of several averages looks better than it is. Carry counts along the target line: a ball that lands off it counts a little less than its straight distance.
compare.ellipse-what: An ellipse on the plan is where four of five next balls are expected to land, drawn from five balls on; with fewer the balls themselves are all there is.
need.title: How many balls would it take?
need.question: What one setting may do better
need.carry: {0} longer in carry?
need.offline: {0} more to one side?
need.miss: Costly miss: {0} to {1}?
need.see: To see it 8 times in 10: {0} with each setting. 9 times in 10: {1}.
need.pick: Only to have the better one look better, 8 times in 10: {0} with each. 9 times in 10: {1}.
need.hint: By balls alone, with the scatter that you have. Physics and your other settings help, so the answer on the page Choose often needs fewer.
need.hundreds: more than {0} balls
compare.not-apart: Not told apart yet.
compare.never: To settle it would take hundreds of balls: take the two for equal in this.
compare.more: {0} more in each would settle it.
compare.better: Chance that it is better for you: {0}.
compare.one: Only one setting so far
compare.one-do: Hit a few balls with another setting; then the two can be compared.
compare.differences: Differences
compare.quantity: Difference in
compare.strokes: strokes
compare.ball: Ball {0}, {1}
verdict.clear: Clear
verdict.likely: Likely
verdict.leaning: Leaning
verdict.cannot tell: Cannot tell yet
choose.keep: Keep {0}
choose.expect: What to expect
chance.of: {0}: {1} of {2}
choose.quantity: Quantity
choose.now: Today
choose.then: Then
choose.p-left: beyond the left line
choose.p-right: beyond the right line
choose.p-apex: in the height window
choose.p-carry: carry reached
choose.why: Why
choose.flips: What would change the advice
choose.notes: Good to know
choose.contradicts: Your shots contradict the textbook
choose.moves: What each adjustment does to your ball
choose.move-now: With your shots
choose.move-before: Textbook alone
choose.move-share: Measured
choose.move-interval: In brackets: where 8 of 10 such estimates lie.
choose.move-all: All quantities, with and without your shots
choose.check: Check it before you trust it
choose.check-what: Today’s setting, the other one, and back, with the same ball. Three balls each show only a large difference; a setting that does nothing passes one check in ten.
choose.check-start: Start
turns.done: All three turns are hit.
turns.play: From now on: {0}
turns.stop: End the check
turns.decided: Taken up last
turns.adopted: {0}: {1}, from now on
turns.chance: Aim: {0}. Chance that it is better than the other: {1}.
choose.doubts: What these shots cannot tell
choose.hit: Hit it
choose.grid: All settings
choose.grid-hint: Gained against today, {0}. Tap one.
choose.grid-caption: Rows: sleeve. Columns: weights.
choose.grid-legend: Full dots of 20: chance to beat today. Solid frame: hit. Dashed: predicted. Double: chosen.
choose.value: Expected
choose.against: Against today
choose.share: From your shots: {0} of what is known of it, the rest from physics.
choose.best: Chance that it is the best of all: {0}.
cell.today: today
cell.chosen: chosen
cell.zero: 0
cell.sure: , {0} sure that it is better. 
air.title: Your ball in other air
air.hint: Against {0} in still air, with the chosen setting.
air.change: Air
air.head: Head wind, {0}
air.tail: Tail wind, {0}
air.right: Wind from the right, {0}
air.left: Wind from the left, {0}
air.warm: {0} warmer
air.cold: {0} colder
air.high: {0} higher up
reach.title: Launch and spin within reach
reach.best: With your ball speed and attack, {0} and {1} carry farthest of what your loft can deliver: {2}.
reach.short: Your ball carries {0} less.
reach.there: Your ball is there: it carries as far, give or take {0}.
reach.flat: The top is flat: from {0} with {1} to {2} with {3}, no more than {4} are lost.
reach.guess: The attack was not measured: {0} is taken, about an amateur’s.
reach.doubt: Published balls differ on what spin does: a small difference here is no evidence.
balls.level: In still air at {2} and sea level: carry {0}, height {1}. The measured numbers stay as they are.
if.title: What if
if.hint: Move the launch and see the flight move with it. It starts from the chosen setting.
if.move: Move a slider.
if.reset: Back to the start
if.was: at the start
if.now: moved
if.table: The two flights
if.run: Total distance: ± {0}. The ground decides how far a ball runs.
if.said: Carries {0} {1}, lands {2} more to the {3}
if.same: As at the start
if.failed: It cannot fly: {0}
sheet.lead: What to take home: the setting, what to expect, what it rests on.
send.print: Print
send.picture: Picture for a chat
send.link: Link
send.sheet: The sheet
send.table: The balls as a table
send.still: The balls in still air
send.session: The whole session
send.holds.print: The sheet, on one page.
send.holds.picture: The setting, how sure, and where the balls land.
send.holds.link: The session and its answer are in the link itself; nothing is stored elsewhere. Whoever has the link can read it.
send.holds.sheet: The sheet as a page that opens anywhere.
send.holds.table: Each ball, the club, the aim and the answer. Ferrule opens it again; so does any spreadsheet.
send.holds.still: Each ball as measured and as it would fly in still air.
send.holds.session: Balls, club, aim and the answer as it was given.
send.below: As it stands below.
send.save: Save
send.not: Not now
send.reach.nobody: Only this device can open this address: others cannot follow the link. Send a file instead.
send.reach.network: Only devices in this network can open this address. For one of them, scan the code; for others, send a file.
sheet.names: with the player’s name, the title and notes
sheet.working: Writing the sheet
sheet.failed: The sheet could not be written: {0}
sheet.link-is: Link
sheet.copy: Copy
sheet.copied: Copied.
sheet.send: Send
sheet.qr: Scan it from this screen
sheet.no-qr: The session is too long for a code; send the link or the file.
sheet.no-link: No link could be made: {0}
sheet.on-paper: with the link and its code on the sheet
sheet.long: The link has {0} characters; some mail and chat programs cut it off. Send it as a file instead.
sheet.files: Send or save a file
sheet.bench: Fill in what was measured by hand
sheet.bench-hint: Optional. What stays empty is not printed.
sheet.install: Put Ferrule on the home screen: it then starts without a signal, and the browser is less likely to clear your sessions.
shared.lead: Somebody shared this with you. It is read on your device only.
shared.damaged: This link is damaged: a part of it is missing or changed. Ask for it again, or for the file.
shared.newer: This link was made by a newer version of Ferrule. Reload the page and open it again.
shared.no-answer: This link holds balls without an answer yet.
shared.balls: {0} {0:ball|balls} with {1} of {2} {2:setting|settings}.
shared.none: No link was opened
shared.none-do: Open the link that you were sent.
shared.given: The answer as it was given on {0}.
shared.given-undated: The answer as it was given.
shared.anew: Work it out anew
shared.differs: As it was given, the answer was {0} ({1}). Worked out anew it is {2} ({3}).
shared.differs.how: Given: {0}, better with a chance of {1}, {2}. Anew: {3}, {4}, {5}.
shared.same: Worked out anew, it says the same.
shared.why.version: Ferrule works differently since.
shared.why.before: Earlier visits and other players’ balls do not count alike in both.
shared.why.balls: Other balls count now: {0} then, {1} now.
shared.why.rounded: A link rounds the numbers of the balls, and Ferrule may work differently since.
shared.why.even: The balls do not tell the two apart: a rounding turns the advice.
settings.lead: They hold for this device.
settings.units: Units
units.imperial: yards, feet, miles per hour
units.metric: metres, kilometres per hour
units.metric-mps: metres, metres per second
settings.sample: This is how it looks: {0}, {1}, {2}. A decimal point or a comma may be typed either way.
settings.look: Look
settings.theme: Theme
theme.device: as the device
theme.light: light
theme.dark: dark
theme.sun: sunlight: black on white, thick lines
settings.language: Language
settings.working: Working
settings.auto: Work the answer out after each change
settings.confirm: What tells that a ball was taken
settings.voice: Balls can be spoken only where the browser recognises speech on this device. Elsewhere it is off, without a key “Speak”: what you say is sent nowhere.
confirm.vibration: vibration
confirm.sound: a short tone
confirm.none: nothing
settings.storage: Storage
settings.install-hand: On a phone without such a button: the browser’s share or menu button, then “Add to Home Screen”. Some browsers clear what is not installed after seven days without a visit.
settings.install: Install on this device
settings.about: About
settings.about-text: Ferrule works on your device alone: no account, no server, nothing is sent. It works without a network once it has been opened.
settings.storage-hint: Installed on the home screen, the sessions are safer. A backup file is safest.
live.lead: For a fitter: large numbers beside the launch monitor.
client.open: Second window
client.wait: The next ball shows here.
live.players: Players
live.new: New player
live.setting: Set to: {0}
live.last-is: Ball {0}, {1}
live.type: Type a ball
live.tally: Balls so far
live.count: Balls
live.next: Next
bay.balls: Balls left: {0}
bay.minutes: Minutes left: {0}
bay.start: Start the clock
bay.stop: Stop the clock
bay.folder: Watch a folder
bay.watching: Watching {0}
bay.asks: {0} leaves a question
bay.move: Move {0} to
notice.undone: Undone: {0}.
notice.redone: Done again: {0}.
notice.cancelled: Stopped. What was known stays.
notice.shot-removed: The ball is removed.
notice.removed: Removed.
notice.left-out: Left out.
notice.session-opened: Opened: {0}
notice.file-added: Taken over. Balls added: {0}.
notice.balls-to: {0} {0:ball|balls} to {1}
notice.session-removed: The session “{0}” is removed.
notice.session-back: The session “{0}” is back.
notice.kept-beside: Yours is kept beside the other one, as “{0}”.
edit.theirs: opening the other version
save.conflict: This session was changed or removed in another tab meanwhile. What you did here is not stored yet.
save.mine: Keep mine as a copy
save.theirs: Open the other version
save.failed: The last changes are not stored. Do not close this page before you saved them to a file.
save.left: The session “{0}” is not stored.
save.again: Try again
save.file: Save to a file
notice.kept: A copy is yours now.
notice.adopted: Taken up. It is today’s setting of the next session.
notice.record-known: All of it is here already.
notice.record-kept: The record is kept.
notice.read-only: This was sent to you: keep a copy to change it.
notice.backup: The backup file is saved.
notice.restored: Sessions added from the backup: {0}.
notice.restored-same: Sessions added from the backup: {0}. Here already: {1}.
notice.restored-records: Sessions added from the backup: {0}. Records of heads: {1}.
error.restored: Sessions added: {0}. {1} more {1:is|are} cut off, damaged or of a newer version: kept under “Damaged sessions”.
error.record-spoilt: What was learned of a head is put aside, sessions are not touched: {0}
error.incoming: The shared file did not come in: the app could not store it. Open it from here instead.
notice.again: The analysis gave no sign of life any more and was begun again.
notice.merged: Joined with what another tab saved: {0} {0:ball|balls}.
notice.stored-anew: {0}.
error.not-yet: Not everything is stored yet, so this page stays. Save to a file, or try again.
error.incoming-refused: A page of another site tried to hand Ferrule a file. It was refused, and nothing was taken.
error.open: The session could not be opened: {0}
error.save: The session could not be stored: {0}.
error.delete: The session could not be removed: {0}
error.example: The example could not be opened: {0}
error.backup: The backup could not be made: {0}
error.restore: The file could not be restored: {0}
error.list: The list of sessions could not be read: {0}
error.answer: No answer: {0}
edit.aim: what you want
edit.air: air and ground
edit.ball: ball
edit.file-added: balls from a file
edit.hand: hand
edit.head: the club
edit.bench: the sheet’s open fields
edit.adopt: what is taken up
edit.limits: settings left out
edit.name: name
edit.note: note
edit.order: order of the balls
edit.player: player
edit.reference: the setting to compare with
edit.setting: setting of a ball
edit.shot-added: a ball added
edit.shot-removed: a ball removed
edit.tag: what a ball was
edit.title: title
edit.value: a number of a ball
caution.hit: Before hitting
caution.hit-clear: Clear the arc of the swing; nobody in front; keep the rules of the range.
caution.hit-warm: Warm up, and rest between the sets. More than 60 to 80 full drives is a load.
caution.hit-pain: Stop on pain and see a health professional.
caution.adjust: Before adjusting
caution.adjust-tool: Use the tool and the torque of the club’s maker and follow the maker’s instructions.
caution.adjust-loose: Never hit with a loose head, sleeve, screw or weight.
caution.adjust-stop: Stop on a rattle or a crack.
caution.round: Under the Rules of Golf a club may not be adjusted during a round (Rule 4.1a(3)); every configuration must conform.
caution.substitute: This tool gives no medical advice and does not take the place of a qualified fitter or instructor.
`
