# The terminal's own sentences. English.
# For each command: what it does, `.words` a person may type for it, `.usage` how it is typed.

## Commands: moving and the car's own controls

cmd-go = Walk to a station.
    .words = go, walk
    .usage = go seat | bay | box | bench
cmd-set = Put one of the car's controls in a position. The word “set” may be left out: key on, ac on, blower 3.
    .words = set, turn
    .usage = set CONTROL POSITION
cmd-start = Turn the key to start.
    .words = start, crank
    .usage = start
cmd-stop = Turn the key off.
    .words = stop
    .usage = stop
cmd-wait = Let time pass, in seconds, or in minutes with an m.
    .words = wait
    .usage = wait SECONDS | wait MINUTESm
cmd-protect = Put on eye protection and gloves.
    .words = protect, glasses, goggles
    .usage = protect

## Commands: hands on the car

cmd-uncover = Take a cover or cap off.
    .words = uncover, open
    .usage = uncover COVER
cmd-cover = Put a cover or cap back.
    .words = cover, close
    .usage = cover COVER
cmd-pull = Pull a relay or fuse out of its slot.
    .words = pull
    .usage = pull PART
cmd-fit = Put a relay or fuse back: the original, or a known-good spare. “turned” puts it in half round.
    .words = fit, insert
    .usage = fit PART [spare] [turned]
cmd-unplug = Take a plug off.
    .words = unplug, disconnect
    .usage = unplug PLUG
cmd-plug = Push a plug on until it latches, or press one home that is on.
    .words = plug, connect, press
    .usage = plug PLUG
cmd-wiggle = Move the harness about at a place while you watch.
    .words = wiggle, shake
    .usage = wiggle PLACE
cmd-spray = Wet a place with the spray bottle while you watch. It dries again, faster where it is warm.
    .words = spray, wet
    .usage = spray PLACE
cmd-look = Look at a place.
    .words = look
    .usage = look PLACE
cmd-inspect = Look closely at something laid aside or unplugged.
    .words = inspect, examine
    .usage = inspect PART | PLUG
cmd-listen = Listen at a place.
    .words = listen, hear
    .usage = listen PLACE
cmd-feel = Feel at a place with the hand.
    .words = feel
    .usage = feel PLACE
cmd-lamp = Point the inspection lamp at a place, or put it away.
    .words = lamp, shine, light
    .usage = lamp PLACE | lamp off

## Commands: tools

cmd-take = Take a tool in the hand. Touch, put, lift and sweep then use it.
    .words = take, hold
    .usage = take light | led | jumper | plain | meter
cmd-clip = Put the test light's clip on a point.
    .words = clip
    .usage = clip POINT
cmd-red = Put the meter's red lead on a point and leave it there.
    .words = red
    .usage = red POINT
cmd-black = Put the meter's black lead on a point and leave it there.
    .words = black
    .usage = black POINT
cmd-put = Put a lead of a tool on a point and leave it there.
    .words = put
    .usage = put [TOOL] clip | probe | a | b | red | black POINT
cmd-lift = Take a lead off, all leads of a tool, or all leads there are.
    .words = lift, unclip
    .usage = lift [TOOL] LEAD | lift TOOL | lift all
cmd-touch = Touch a point with the tool's free lead, read, and let go.
    .words = touch, probe
    .usage = touch [TOOL] POINT
cmd-sweep = Touch all cavities of a relay's socket, one after the other.
    .words = sweep
    .usage = sweep PART [TOOL]
cmd-jump = Bridge two points with the jumper: one end on each.
    .words = jump, bridge
    .usage = jump POINT POINT [plain]
cmd-dial = Turn the meter's dial.
    .words = dial
    .usage = dial off | volts | ohms | amps
cmd-renew = Put a new bulb or fuse into a tool.
    .words = renew
    .usage = renew light | jumper | meter
cmd-breakout = Plug the breakout in at a relay's socket, or take it out.
    .words = breakout
    .usage = breakout PART | breakout off
cmd-gauge = Connect the gauge to the low-side service port, or take it off.
    .words = gauge
    .usage = gauge on | off
cmd-thermometer = Hold the thermometer at a place.
    .words = thermometer, temperature, temp
    .usage = thermometer PLACE

## Commands: the job

cmd-note = Write a line on the job sheet.
    .words = note, write
    .usage = note TEXT
cmd-hint = Ask for a hint: 1 where to think, 2 what to reach for, 3 which test. Without a number: what each costs.
    .words = hint
    .usage = hint [1 | 2 | 3]
cmd-call = Say what is wrong: where, and what. “failures” lists the words.
    .words = call, diagnose
    .usage = call TARGET FAILURE
cmd-repair = Put something right: where, and how. “methods” lists the words.
    .words = repair, mend
    .usage = repair TARGET METHOD
cmd-handback = Give the car back with three lines on the work order. This ends the session.
    .words = handback, hand-back, deliver
    .usage = handback COMPLAINT | CAUSE | CORRECTION
cmd-walkback = After the car was given back: the attempt again, with what each test could tell and did tell.
    .words = walkback, walk-back, debrief
    .usage = walkback

## Commands: looking things up (these cost nothing and are not recorded)

cmd-where = Where you stand, and what is there.
    .words = where
    .usage = where
cmd-state = The state of the car and the tools, as you left them.
    .words = state, status
    .usage = state
cmd-points = Points a tool can touch: those within reach, or all of a part.
    .words = points
    .usage = points [PART]
cmd-places = Places to look, listen, feel and shine at.
    .words = places
    .usage = places
cmd-plugs = Plugs that can be taken off.
    .words = plugs, connectors
    .usage = plugs
cmd-controls = The car's controls and their positions.
    .words = controls
    .usage = controls
cmd-tools = The tools in the roll and their leads.
    .words = tools
    .usage = tools
cmd-box = The fuse box, slot by slot.
    .words = box, slots
    .usage = box
cmd-legend = The legend inside the lid of the fuse box, as printed.
    .words = legend, lid
    .usage = legend
cmd-card = What usually fails with this complaint.
    .words = card
    .usage = card
cmd-targets = What can be called and repaired.
    .words = targets, suspects
    .usage = targets [WORD]
cmd-failures = Words for what can be wrong.
    .words = failures
    .usage = failures
cmd-methods = Words for how something is put right.
    .words = methods
    .usage = methods
cmd-sheet = The job sheet: complaint, notes, calls and repairs.
    .words = sheet, job
    .usage = sheet
cmd-log = What was done and what it showed.
    .words = log, history
    .usage = log [LAST]
cmd-units = Units of pressure and temperature.
    .words = units
    .usage = units psi | kpa | bar | c | f
cmd-cautions = The cautions again.
    .words = cautions, caution, safety
    .usage = cautions
cmd-retry = Try again to save what could not be saved.
    .words = retry
    .usage = retry
cmd-unsaved = Go on without saving.
    .words = unsaved
    .usage = unsaved
cmd-help = All commands, or one of them.
    .words = help, h
    .usage = help [COMMAND]
cmd-quit = Leave. What was done is saved; “resume” goes on from there.
    .words = quit, exit, bye
    .usage = quit

## Words inside commands

word-off = off
    .words = off, away, out, none
word-on = on
    .words = on
word-turned = turned
    .words = turned, rotated
word-all = all
    .words = all
word-plain = plain
    .words = plain

## Mistakes at the prompt

say-unknown-command = There is no command “{ $word }”. Type help to see them all.
say-unknown-command-nearest = There is no command “{ $word }”. Did you mean “{ $nearest }”?
say-usage = Type it like this: { $usage }
say-no-tool = No tool in the hand that has leads. Take one first: { $usage }
say-unknown-word = “{ $word }” is not one of: { $choices }.
say-no-control = This car has no such control.
say-bad-number = “{ $word }” is not a number of seconds. Type, for example: wait 5
say-script-stopped = Script line { $line }: { $why }
say-script-refused = Script line { $line }: refused, and the script was to stop on a refusal.
say-not-kept = It was done but could not be saved, so it is not shown. Type retry to try again, or unsaved to go on without saving.
say-now-unsaved = From here nothing is saved.
say-nothing-waiting = Everything done is saved already.

## Start

say-what-this-is = Tracebay lets you practise finding electrical faults in cars. You get a complaint on an invented car with a hidden fault, test it with a technician's tools, say what is wrong, put it right and give the car back. Then you are told how well you reasoned.
say-begin = Begin: tracebay-console start { $scenario } --seed 1
say-other-uses = Also: resume FILE goes on with an attempt, check FILE validates files, help lists the options.
say-scenarios = Scenarios:
say-scenario = { $id }: { $title }. Car: { $car }. Difficulty { $difficulty } of 5.
say-no-scenarios = There are no scenarios. Name a folder that has them with --data.
say-recent = Attempts, newest first:
say-recent-line = { $name }: { $scenario }, seed { $seed }, { $actions } actions, { $minutes }{ $done ->
    [yes] , given back.
   *[no] .
  }
say-no-recent = No attempts yet in { $folder }.
say-title = { $title }, seed { $seed }. Car: { $car }, invented.
say-complaint = The customer says: { $text }
say-weather = Outside: { $temperature }.
say-rain = It happens in the rain; the car is dry now.
say-budget = The customer expects the car back within { $minutes } of work.
say-saved-in = Saved in { $path }
say-not-saved = Nothing is saved.
say-how-on = You are in the { $station }. Type help for the commands, where to see what is around you.
say-resumed = Resumed: { $actions } actions done, { $minutes } on the job sheet.
say-resumed-over = This car was given back already. It can be looked at, not worked on.
say-last-done = Last done:
say-goodbye = Saved. Go on with: tracebay-console resume { $path }
say-goodbye-unsaved = Nothing was saved.
say-problem-files = Mistakes in data files: { $count }. Those files are left out; run check on them.
say-seed-too-large = The seed is too large. The largest is { $most }.
say-save-options = Name a folder with --save, or give --no-save.
say-it-was = It was: { $target }, { $failure }.
say-walkback-later = The walk-back comes once the car was given back.
say-walkback-how = Type walkback to go through it again, test by test.
say-no-score = No score can be given: { $why }
say-put-right = The car is put right.
say-still-wrong = Something is still wrong with the car.
say-blown-left = A blown fuse was left in the car: { $part }.

## Information

say-you-are = You are here: { $station }.
say-place = { $id }: { $label }
say-place-dark = { $id }: { $label }. It is dark there.
say-cover-on = { $cover }: on.
say-cover-off = { $cover }: off.
say-minutes = Job minutes: { $minutes } of { $budget }.
say-car-time = Car time: { $seconds } s.
say-control = { $id }: { $position }
say-engine-running = The engine is running.
say-engine-off = The engine is not running.
say-protected = Eye protection and gloves: on.
say-not-protected = Eye protection and gloves: not on.
say-pulled = Out of its slot: { $part }
say-spare-in = Spare fitted: { $part }
say-unplugged = Plug off: { $plug }
say-lead-on = { $tool }, { $lead }: on { $point }
say-in-hand = In the hand: { $tool }
say-dial-at = Meter dial: { $dial }
say-breakout-in = Breakout: at { $part }
say-gauge-on = Gauge: connected.
say-lamp-at = Inspection lamp: at { $place }
say-tool-blown = Fuse blown in: { $tool }
say-heard-now = You hear: { $sound } ({ $place })
say-point = { $id }: { $facts }
say-point-marked = marked { $mark }
say-point-in-reach = Within reach.
say-no-points = No point is within reach here.
say-plug = { $id }: { $label }, { $place }
say-plug-off-limits = { $id }: { $label }, { $place }. Off limits.
say-control-positions = { $id }: { $label }, { $station }. Positions: { $positions }. Now: { $position }
say-tool = { $word }: { $tool }
say-tool-leads = { $word }: { $tool }. Leads: { $leads }
say-box = { $label }: { $columns } columns, { $rows } rows. Row 1 is at the top, column 1 at the left, as you stand before it.
say-box-row = Row { $row }:
say-slot-relay = column { $column }: relay { $id }{ $out ->
    [yes] , pulled
   *[no] {""}
  }
say-slot-fuse = column { $column }: fuse { $id }, { $amps } A{ $out ->
    [yes] , pulled
   *[no] {""}
  }
say-lid-on = The legend is inside the lid. Take it off first: uncover { $cover }
say-legend = Legend of the { $label }, row by row as its print is read.
say-legend-turned = The print stands on its head when the lid lies beside the box.
say-legend-upright = The print stands upright when the lid lies beside the box.
say-legend-entry = column { $column }: { $legend }
say-card = What usually fails with this complaint, by the scenario's estimate:
say-card-line = { $percent } in 100: { $what }, { $failure }
say-terminal-of = { $part }, terminal { $id }
say-target = { $id }: { $label }
say-word = { $word }: { $meaning }
say-note = Note: { $text }
say-called = Called: { $target }, { $failure }
say-repaired = Put right: { $target }, { $method }
say-log-entry = { $n }. { $text }
say-units = Pressure in { $pressure }, temperature in { $temperature }.
say-help-intro = Commands. Type help and a command for more. Most take the id of a part, plug, place or point; the tab key completes it.
say-help-line = { $usage }
say-also = Also typed: { $words }
say-ask-complaint = What the customer complained of:
say-ask-cause = What the cause was:
say-ask-correction = What was done:

## Checking files

say-check-vehicle = { $path }: a vehicle, good.
say-check-scenario = { $path }: a scenario with { $candidates } candidate faults, good.
say-check-scenario-refused = { $path }: a scenario with { $candidates } candidate faults, not accepted; what is to be put right is told with the table.
say-check-attempt = { $path }: an attempt at { $scenario }, seed { $seed }, { $actions } actions. It replays as recorded.
say-check-course = { $path }: a course with { $lessons } lessons, good.
say-check-texts = { $path }: { $texts } texts in the language { $language }, good.
say-check-lacking = Language { $language }: { $missing } of { $all } texts have no translation and are shown as they were written.
say-check-wiring = { $path }: a fuse does not protect its wire; see above.

## What simulation proves of scenarios, for authors

say-prove-scenario = scenario
say-prove-vehicle = vehicle
say-prove-hard = hard
say-prove-faults = faults
say-prove-repairs = repairs
say-prove-tests = tests
say-prove-best = best min
say-prove-longest = longest
say-prove-depth = depth
say-prove-budget = budget
say-prove-none = nothing
say-prove-wire = { $vehicle }: wire { $wire } of { $mm2 } mm² may carry { $may } and stands behind a fuse of { $fuse }.
say-prove-sum = { $scenarios } scenarios, { $faults } candidate faults, { $wrong } things to put right. A ~ marks a best plan that is a bound.
say-prove-no-operating-point = the car cannot be computed: { $why }
say-prove-sound-car = the complaint is true of a sound car (seed { $seed }). Make the symptom's steps or its limit stricter.
say-prove-not-true = the complaint is not true under { $candidate } (seed { $seed }). Make the fault stronger or the symptom's limit looser.
say-prove-alike = no test tells { $a } from { $b } (seed { $seed }). Add a state, a probe or a spare, or give both the same group.
say-prove-over-budget = { $candidate } takes { $minutes } to prove, more than the budget. Raise the budget or add a quicker test.
say-prove-state = the car state { $state } is not reached: { $missing } did not happen. Mind the order of its steps.
say-prove-tells = “{ $text }” gives the answer away with “{ $word }”.
say-prove-few-suspects = { $suspects } suspects for { $culprits } places of faults. List at least half as many again.

## Courses and diagrams

say-course = { $id }: { $title }, { $lessons } lessons. { $about }
say-no-courses = There are no courses.
say-unknown-course = There is no course { $id }. There are: { $known }.
say-lesson = Lesson { $number }: { $title }
say-lesson-scenario = - start { $id } ({ $title })
say-lesson-seeds = - seeds for a class: { $seeds }
say-unknown-vehicle = There is no vehicle { $id }. There are: { $known }.
say-unknown-circuit = { $id } is in no circuit of this vehicle. Circuits go by a relay or a load: { $known }.

## Assignments

say-assigned-who = This file is for a whole class. Say who you are: --learner and your id on the class list.
say-assigned-no-task = There is no task “{ $task }” in this assignment. Leave --task out to see the tasks.
say-assigned-choose = Tasks of { $title }. Choose one with --task:
say-assigned-task = { $task }: { $over } of { $most } attempts given back, { $open } unfinished
say-resume-assigned = This attempt belongs to an assignment. Open it with: tracebay-console assigned FILE --learner ID
say-scenarios-left = And { $count } more: list shows all, courses puts them in an order.

## Fields of the files authors write

say-fields-kind = { $kind }: { $files }
say-fields-how = “fields KIND” lists its fields, “fields KIND --schema” prints its JSON Schema.
say-fields-unknown = There is no kind of file “{ $kind }”. There are: { $known }.
say-fields-lies-in = Such files lie in { $files }. A field is told with its type, unit, range, whether it must be there, and its meaning.
say-fields-ron = Files are RON: a type is Name(field: value), a map { "{" } "name": value { "}" }, a choice stands by its bare name or as Name(value), what may be absent is Some(value) or None. The JSON Schema speaks of the same files as JSON: there a choice is "Name" in quotes or { "{" } "Name": value { "}" }, Some(value) is the value alone, None is null, and ( ) around several values is [ ].
say-fields-json-only = This file is JSON. Programs write it; people read it.
say-fields-required = required
say-fields-optional = may be left out
say-fields-default = { $value } if left out
say-fields-range = { $low } to { $high }
say-fields-text = text
say-fields-whole = whole number
say-fields-number = number
say-fields-boolean = true or false
say-fields-list = list of { $inner }
say-fields-names = names to { $inner }
say-fields-maybe = Some({ $inner }) or None

## Checking again whenever a file is saved

say-watch-nothing = Name a file to watch, or a folder with --data.
say-watch-waiting = Waiting for a file to be saved. Enter stops.
say-watch-again = A file was saved. Checking again:
say-files-unknown = There is no data file “{ $path }”. Nearest: { $nearest }.
