package message

import "strings"

// English visits what goes wrong, and what is assumed of a file, in English: keys and
// words. Package text has them in every other language. They stand here because an
// error has words wherever it is read, and as one text because a page that is fetched
// is smaller by it.
func English(visit func(key, words string)) {
	for rest := english; rest != ""; {
		line, after, _ := strings.Cut(rest, "\n")
		key, words, _ := strings.Cut(line, " ")
		visit("problem."+key, words)
		rest = after
	}
}

const english = `plain {0}
stopped the analysis stopped unexpectedly; nothing that you entered is lost
versions page and analysis are of different versions: load the page again
start the analysis could not be started: check the connection and load the page again
no-shots no shot to analyse yet: open a file or type a shot with at least a ball speed or a carry
no-setting none of the {0} shots names a setting of this club (read {1}): mark with which setting each was hit, or correct the club’s labels
unset none of the {0} shots says how the club was set: mark with which setting each was hit
no-usable none of the {0} shots can be used: all are left out, impossible, or without a ball speed and a carry
fault a fault in Ferrule, please report it with the session file: {0}
air the air: {0}
clubs the clubs: {0}
club-named the club {0}: {1}
many-settings the balls name {0} different settings, expected at most {1}: was a column of numbers read as the setting?
many-together the clubs: read {0} settings together, expected at most {1}: rule out those that nobody would play
two-hands one visit is of a right-handed player, the other of a left-handed one: expected two visits of one player
answer-settings the answer names the settings {0} and {1}, which this club does not have
positive a number above zero
window the carry and the height window must be above zero, the top of the window above its foot
no-window a height window is wanted, but no height is given
no-hole no hole to play
weight the weight of a hole must be zero or more
bend the bend must be above zero and at most 90 degrees
no-reach no launch of this ball speed and attack flies
unexplained no delivery explains this launch
no-contact the face moves away from the ball
no-flight the typical ball cannot be flown: {0}
club the club: {0}
earlier the earlier visit: {0}
later the later visit: {0}
strike the typical ball of this session ({0} m/s) fits no strike: {1}
file no shots found: line {0}, column {1}: read {2}, expected {3}
range read {0} {1}, expected {2} to {3} {4}
sleeve-both read both a tilt and a table, expected one of them
rings read {0} rings, expected one or two
tilt read 0 deg, expected the angle between bore and sleeve; leave the sleeve out if nothing tilts
positions read {0}, expected the number of positions over a full turn, 1 to {1}
labels read {0} labels, expected {1}, one for each position
no-label read no label, expected a name for this position
same-label read {0}, which is already the label of number {1}; expected a label of its own
named {0}: {1}
both {0}; {1}
at-most read {0}, expected at most {1}
long-text read a text of {0} bytes, expected at most {1}
labels-alone read labels without a tilt or a table, expected tilt_deg and positions
labels-weights read {0} labels, expected {1}, one for each weight
no-exclude read no label, expected at least one; an empty label stands for any
of-length of the length
none-set none (nothing on it can be set)
cannot-set read {0}, which this club cannot be set to
line line {0}: {1}
want-angles a label and its angles in degrees
angles-most read {0} angles, expected at most {1}
angles-above read {0} angles, expected {1} as in the lines above
two-lines read {0} lines with angles, expected two at least
changes read {0} to {1}, expected changes of at most {2}
changes-or read {0} to {1}, expected changes of at most {2}, or angles within {3} of the {4} of the head
club-no-name read no name, expected one for each of the {0} clubs
club-same-name read {0}, which another club is called, expected a name of its own
no-name a head without a name
unlike-kind one is a {0}, the other a {1}
unlike-loft one has {0} degrees of loft, the other {1}
unlike-name one is called {0}, the other {1}
unlike-ways one can be set in {0} ways, the other in {1}
unlike-setting a setting of one leans {0} and lies {1} degrees upright, with the mass {2} mm to the toe; that of the other {3}, {4} and {5}
weights read {0} weights, expected at most {1}
no-stop read none, expected at least one place where the weight can sit
stops read {0}, expected at most {1} places
no-mass read none, expected a mass for the weight or for each of its stops
heavy read {0} g of weights in a head of {1} g, expected less than half
combinations read more than {0} combinations, expected at most that many
excluded read {0}, which is excluded; expected a setting that can be made
no-loft missing, expected the loft stated on the head, such as 10.5
one-of read {0}, expected one of {1}
read read {0}, expected {1}
number-of a number of {0} such as {1}
number a number such as {0}
ball-numbers the numbers of a ball
one-number a number in one of the columns at least
want-table a table of shots (CSV, text, XLSX or JSON)
want-headers a line of headers such as "Ball Speed", "Launch Angle", "Carry" above the shots
want-row a row of numbers for each shot
empty nothing: the file is empty
header-only a header and no shot below it
binary binary data
media a picture, a sound or a film
packed a packed archive; unpack it first
machine a program or a database
no-tables characters of {0}, for which the program has no tables
not-of characters that are no {0}
torn-part a part of the workbook, {0}, that can't be read on
torn-workbook a workbook that can't be opened
own-form a spreadsheet of a program that keeps a form of its own
want-exported the table exported as .xlsx or CSV
locked an archive with a password
want-unlocked one without: unpack it and open the tables
no-spreadsheet a ZIP archive without a spreadsheet in it
megabytes a file of {0} MB
want-megabytes at most {0} MB: save the session of one day
more-than more than {0} {1}
want-fewer fewer: save the session of one day
lines lines
cells cells
sheets sheets
files files
bytes bytes
want-line one shot a line
no-sheet a workbook with no filled sheet
torn-json JSON that can't be read on
no-list JSON without a list of objects
want-list a list of objects such as {0}
none-usable {0} {0:row|rows} below the header and none with a usable number (the first in column {1})
want-ball numbers of a ball
no-numbers {0}, no column of numbers
two-sides {0}, which names two sides
minus-side {0}, a minus and a side that contradict
between {0} to {1}
nothing nothing
letter-right {0}: right
letter-left {0}: left
rel-curve the curve agrees with {0}
neither {0}, where {1} is neither a unit nor a side
first-line {0} as the first line says
spaces set apart by spaces
one-column one column
own-column written by this program
at-place line {0}, column {1}: read {2}, expected {3}
column column {0}: read {1}, expected {2}
export-line line {0} of the export, {1}
whole-number a whole number
a-number a number
unit-brackets a unit in the brackets
no-session what is no session
want-session a session as this program writes it; it may have been cut off
export-holds an export that holds {0}
a-session a session
export-version an export of version {0}
want-version at most {0}: update the program
ball-value in ball {0} {1} = {2}
want-measured a measured quantity and a number
balls balls
own-export an export of this program: nothing in it is guessed
ball-speeds ball speeds
club-speeds club speeds
distances distances
heights heights
json-limit JSON that can't be read on: {0}
part-limit a part of the workbook, {0}, that can't be read on: {1}
nested nested more than {0} deep
tag a tag of more than {0} bytes
records records
no-side {0} without a side
as-others one as in the other rows, such as 12.3 R
all-zero zeros in all {0} columns, a false trigger
zeros {0} zeros in {1} are taken as not read
stand-ins {0} numbers in {1} such as {2} stand for nothing and are taken as not read
angles-zero in {0} {0:row|rows} several club angles are exactly zero together: taken as not read
as-setting the column {0} is taken as the setting
same-setting the setting {0} is read as {1}: the two differ in capitals or spaces alone
titles the titles between the rows are taken as settings
left-right left and right are taken as the file gives them, right positive: numbers alone cannot show whether a file is turned over for left-handers as a whole
header-at the header stands in line {0}; the lines above it are passed over
unit-line line {0} holds the units
header-again the header is repeated {0} times
summaries {0} {0:row|rows} of averages or other summaries {0:is|are} left out
other-club {0} {0:shot|shots} with another club {0:is|are} left out (tagged so, not dropped)
carry-or-total does {0} mean carry or total? It is taken as the total
positive-right {0}: does a positive number in {1} mean right?
curved-right did your balls curve left or right in the air? As {0} is written, they curved to the right
curved-left did your balls curve left or right in the air? As {0} is written, they curved to the left
turned the column {0} is turned over: {1}
no-unit the {0} in {1} have no unit and the numbers leave it open; taken as {2}. Say which unit it is
players the file holds shots of {0} players ({1}); expected one player a session
no-known-club no club of this file is known as a {0} ({1}). Which balls belong to the session?
clubs-contradict the columns of clubs contradict each other in {0} {0:row|rows} ({1}). Which balls belong to the session?
several-clubs {0} names are {1}s ({2}). Which balls belong to the session?
flies-like balls of {0} fly like a {1}'s ({2}). Which balls belong to the session?
balls-no-club {0} {0:ball names|balls name} no club ({1}). Which balls belong to the session?
whose-club {0} {0:ball is|balls are} of {1}, which is none of the session's clubs. Whose are they?
which-setting no column says that it names settings. Which one does, if any?
titles-settings the titles or sheets of the file ({0}) may name settings. Do they?
yes-settings yes, settings
none-of-them none of them
as-read as it was read
means-right {0}: a positive number means right
means-left {0}: a positive number means left
no-known-header no header of this file is known ({0}). Say what the columns are
by-column column by column
not-the-unit the {0} in {1} are not {2}, and the numbers leave it open what they are; taken as {3}. Say which unit it is
face-inches the places on the face in {0} have no unit; taken as inches. Say whether they are centimetres
carry-total-share does {0} mean carry or total? It is {1} % of what the launches fly and taken as the total
not-used not used
unknown-header the header {0} is not known, and its numbers may be a ball's. What are they?
letter the letter {0} in column {1}: does it mean right, left or a shape of the ball? Those cells are not used until you say so in words
odd-speeds {0} numbers under {1} are {2} (lines {3}): ball speed over club speed says so
in-lines-not in lines {0} {1}, not {2}
as-numbers as the numbers say
other-units lines {0} are in other units than their headers or the rest of the file: {1}
rows-of-averages {0} {0:row is the average of those above it and is|rows are the averages of those above them and are} left out
average-line line {0} holds the averages of the balls above it. Is it a ball all the same?
an-average an average
a-ball a ball
own-side the sides of {0} stand in the column {1}
goes-on the column {0} goes on in {1}
sheet-settings the names of the sheets are taken as settings
repeated {0} {0:ball stands|balls stand} in the file more than once and {0:is|are} taken once
block-length in lines {0} the distances in {1} may be {2} or another unit: the speeds there are not as the header says. Say which unit it is
block-shorter in lines {0} the distances in {1} are {2} % of those before them for the same launches. Are they in {3}?
block-longer in lines {0} the distances in {1} are {2} % of those after them for the same launches. Are they in {3}?
stray-lines lines {0} are in {1} and {2} as other parts of the file are: their ball speeds say so
air-unit the numbers in {0} have no unit and are not used until you say which it is
air-degrees are the degrees in {0} counted from the target line or from north? Until you say so the direction of the wind is not used
air-sides do the sides in {0} say where the wind comes from or where it blows to? Until you say so it is not used
air-line from the target line: 0 against the ball, 90 from the right
air-north from north: not used
air-from where it comes from
air-to where it blows to
air-no-line the directions in {0} do not say how the wind blows against the target line and are not used
clubs-many more than {0} different clubs: no column of clubs is used
no-unit-of {0} is no unit of it
already the column {0} is the {1} already: this one is not used
fits-none the header {0} is known, but its values or unit fit no free quantity
as-long carry, not total: the flights of these launches are as long
taken-carry the column {0} is taken as carry: it is {1} % of what the launches fly
an-altitude it never changes: an altitude, not an apex
filled-in the numbers in {0} are the same in {1} balls: filled in by the device, not measured
header-estimated the header says that the device works it out
not-tracked the balls were followed over {0} % of their carry: what comes after the launch is worked out by the device
side-of it says the side of {0}
disagree the columns disagree about left and right: {0} go one way, {1} the other. Which of them means right by a positive number?
sides-contradict the sides written in {0} contradict the other columns: {1}
turned-over turned over: {0}
in-lines lines {0} to {1}: {2}
clear-shots {0} in {1} of {2} clear shots
rel-start the start line agrees with the landing side
rel-curve-air {0} agrees with the curve against the air
rel-axis the spin axis
rel-side the side spin
rel-rest the side at rest agrees with the landing side
rel-angle the landing angle agrees with the landing side
rel-sidespin side spin agrees with the spin axis
rel-face-path the spin axis agrees with face-to-path
rel-this-way {0} fits the start line and the curve better this way round (odds e^{1} over {2} shots)
rel-other-way {0} fits the start line and the curve better the other way round (odds e^{1} over {2} shots)
radians column {0}: the angles are radians, not degrees: a median of {1}° is no drive
curve-times {0}, not {1}: landing less start line is {2} times smaller
curve-unit the numbers under {0} are {1}, not {2}: landing less start line says so
others-against the other columns agree against it
left-positive the header says that left is positive
header-runs the header runs over lines {0} and {1}
errors-many more than {0} errors; the rest is not listed
gave-place you gave its place to {0}
rel-written-curve the curve agrees with landing less start line
text-as text read as {0}
against-header {0} from the values, against its header
no-column-in {0} and no known column in {1} lines
json-list from a list of JSON objects; lines are counted as its records
commas commas
semicolons semicolons
tabs tabs
bars bars
separated separated by {0}
no-choice the answer {0} to {1} is none of its choices and is not used
columns-how columns {0}
from-workbook from a workbook
from-page from a web page
one-a-line one value a line
header-is the header {0}
header-names the header {0} names the {1}
header-unknown the header {0} is not known
table-beside a table beside the balls (line {0}) is not read
unit-from-header {0} from the header
unit-from-row {0} from the unit row
unit-from-cells {0} from the cells
unit-from-values {0} from the values
unit-usual {0}, as is usual
as-you-said as you said
words-clubs its words are clubs
words-labels its words are labels of the club
holds-below an entry holds for the rows below it, until the next
guess-taken a guess from its values, which you took
password a workbook with a password; open it, take the password away and save it again
document a text document or slides, no table
want-saved-table the table itself, saved as a workbook (.xlsx) or as CSV
old-workbook an old binary spreadsheet or document (.xls, .doc); save it as .xlsx or .csv
a-pdf a PDF document
page-no-table a web page without a table
link-shots {0} shots are too many for a link, at most {1}
link-long the link would have {0} characters, at most {1} are possible: use the file
record-newer the record was written by a later version of Ferrule: update, then open it again
record-damaged the record is damaged
record-has the record has this session already
no-adjustment no adjustment of the head is described
record-none it does not begin as a record of a head
record-odd it holds numbers that cannot be
record-full the record holds {0} sessions, expected at most that: begin another
record-other another head
checksum the checksum does not match
answer-unread the answer that came with the session cannot be read: it is worked out anew
`
