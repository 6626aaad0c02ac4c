# Sentences for what the car, the tools and the session say. English.
# `.words` lists what a person may type for it, the first being the one that is shown.

decimal-separator = .

## Units

unit-volts = { $value } volts
unit-ohms = { $value } ohms
unit-amps = { $value } amps
unit-psi = { $value } psi
unit-kpa = { $value } kPa
unit-bar = { $value } bar
unit-celsius = { $value } °C
unit-fahrenheit = { $value } °F
unit-minutes = { $value } min

## Where one stands

station-seat = driver's seat
    .words = seat, driver, inside
station-bay = engine bay
    .words = bay, hood, bonnet, engine
station-box = fuse box
    .words = box, fusebox
station-bench = bench
    .words = bench, workbench

## Tools

tool-test-light = test light
    .words = light, test-light, testlight
tool-led-light = LED test light
    .words = led, led-light
tool-fused-jumper = fused jumper
    .words = jumper, fused-jumper, fused
tool-plain-jumper = jumper without a fuse
    .words = plain, plain-jumper, wire
tool-meter = meter
    .words = meter, multimeter, dmm, dvom
tool-breakout = socket breakout
    .words = breakout
tool-gauge = low-side gauge
    .words = gauge
tool-lamp = inspection lamp
    .words = lamp, torch, flashlight
tool-thermometer = thermometer
    .words = thermometer

lead-clip = clip
    .words = clip
lead-probe = probe
    .words = probe, tip
lead-a = end A
    .words = a
lead-b = end B
    .words = b
lead-red = red lead
    .words = red
lead-black = black lead
    .words = black

dial-off = off
    .words = off
dial-volts = DC volts
    .words = volts, v, dcv
dial-ohms = ohms
    .words = ohms, ohm, resistance
dial-amps = DC amps, 10 A socket
    .words = amps, a, current

glow-dark = dark
glow-faint = a faint red glow
glow-dim = lit, but dim
glow-bright = bright

## Points

point-kind-cavity = socket cavity
point-kind-blade = blade
point-kind-test-tab = test tab on the fuse
point-kind-back-probe = terminal, probed from behind its plug
point-kind-pin = pin of the part
point-kind-plug-face = terminal in the face of its plug
point-kind-post = battery post
point-kind-stud = ground stud
point-kind-paint = painted metal

blade-size-wide = wide
blade-size-narrow = narrow

## Names

name-relay = relay { $id }
name-fuse = fuse { $id }
name-terminal = terminal { $id }
name-point = { $id } ({ $part })
name-wire = wire { $id } ({ $colour })
name-wire-between = wire { $id } ({ $colour }, from { $from } to { $to })
name-refrigerant = the refrigerant

## What is perceived

seen-light = { $tool } at { $point }: { $glow }.
seen-meter = Meter at { $point }: { $display }.
seen-gauge = Low-side gauge: { $pressure }.
seen-temperature = Thermometer, { $place }: { $temperature }.
seen-heard = Sound: { $sound } ({ $place }).
seen-silence = { $place }: nothing to hear.
seen-seen = { $place }: { $finding }.
seen-lamp = { $place }, { $lamp }: { $finding }.
seen-nothing = { $place }: nothing out of the ordinary to see.
seen-too-dark = { $place }: too dark to see anything. Point the inspection lamp there and look again.
seen-felt = { $place }: { $touch }.
seen-spark = { $strong ->
    [yes] A strong spark at { $point }.
   *[no] A small spark at { $point }.
  }
seen-tool-fuse-blew = The fuse in the { $tool } has blown.
seen-smoke = Smoke from { $place }!
seen-dash = { $awake ->
    [yes] Dash: { $rpm } rpm, charge warning lamp { $charge ->
        [on] on
       *[off] off
      }.
   *[no] Dash: everything dark.
  }
seen-repaired = { $target }: done, as new.
seen-hint-asked = Hint of level { $level } asked for.

meter-over-range = over range, no path
meter-nonsense = wanders about { $value } and does not settle
meter-blank = display blank

sound-relay-click = a relay clicks
sound-relay-buzz = a relay buzzes
sound-clutch-in = the compressor clutch snaps in
sound-clutch-out = the compressor clutch lets go
sound-cranking = the starter cranks
sound-slow-cranking = the starter cranks slowly
sound-starter-click = one click from the starter, no cranking
sound-engine-starts = the engine starts
sound-engine-stops = the engine stops
sound-engine = the engine runs
sound-blower = the blower
sound-fan = a cooling fan
sound-pump = the fuel pump
sound-horn = the horn
sound-hiss = a hiss of refrigerant
sound-silence = nothing

finding-not-seated = the plug stands off its seat
finding-terminal-back = a terminal sits back in its cavity
finding-terminal-spread = a terminal stands open and can hardly grip
finding-corrosion = green or white bloom: corrosion
finding-chafed = insulation rubbed through to the copper
finding-element-gone = the fuse element is gone
finding-element-whole = the fuse element is whole
finding-heat-marks = heat marks, browned plastic
finding-oil-trace = oily dirt
finding-fins-blocked = the fins are full of dirt
finding-dust = dust, old dirt, a little surface rust
finding-plate-still = the pulley turns, the clutch plate stands still
finding-plate-turns = pulley and clutch plate turn together
finding-pulley-still = the pulley stands still
finding-wide-gap = a wide gap between clutch plate and pulley
finding-fan-turns = the fan turns
finding-fan-still = the fan stands still
finding-lit = lit
finding-dull = lit, but dull
finding-unlit = not lit
finding-wet = wet

touch-no-air = no air comes
touch-weak-air = little air comes
touch-warm-air = plenty of air, no cooler than outside
touch-cool-air = plenty of air, a little cooler than outside
touch-cold-air = plenty of air, cold
touch-still = at rest, as warm as the air around it
touch-vibrates = vibrates
touch-warm = warm
touch-hot = too hot to hold
touch-cold = cold
touch-plug-moved = the plug moves and latches with a click
touch-plug-firm = the plug is firm
touch-loose-fit = goes in with hardly any grip
touch-firm-fit = grips

## What a learner may say is wrong

failure-open = open, no current passes
    .words = open
failure-high-resistance = too much resistance
    .words = resistance, high-resistance
failure-short-to-ground = short to ground
    .words = short-to-ground, grounded
failure-short-to-supply = short to supply
    .words = short-to-supply, short-to-power
failure-not-seated = connector not seated
    .words = not-seated, unseated
failure-bad-terminal = terminal pushed back or spread
    .words = bad-terminal, terminal
failure-blown = fuse blown
    .words = blown
failure-blown-bulb = bulb blown
failure-blown-any = fuse or bulb blown
failure-coil = coil failed
    .words = coil
failure-contacts = contacts failed
    .words = contacts
failure-stuck-on = stuck on
    .words = stuck-on, stuck, welded
failure-mechanical = worn or seized
    .words = mechanical, worn, seized
failure-diode = suppression diode failed
    .words = diode
failure-no-output = control unit does not switch
    .words = no-output, dead
failure-reading-off = sensor or switch reports wrongly
    .words = reading-off, wrong-reading
failure-low-charge = refrigerant low
    .words = low-charge, low
failure-blocked = condenser airflow blocked
    .words = blocked
failure-misuse = nothing broken, operated wrongly
    .words = misuse, operation
failure-wrong-part = a part of the wrong type fitted
    .words = wrong-part, wrong-type
failure-crossed = wires or terminals crossed
    .words = crossed, swapped
failure-no-fault = nothing wrong, works as it is meant to
    .words = no-fault, as-designed
failure-water-ingress = water has got in
    .words = water, wet, water-ingress

## How something is put right

method-replace = replaced with a new part
    .words = replace, new
method-reseat = connector pushed home until it latched
    .words = reseat, seat
method-mend-terminal = terminal mended or renewed
    .words = mend-terminal, terminal
method-mend-wire = wire mended with a joint of the same gauge
    .words = mend-wire, wire, splice
method-clean-joint = joint cleaned and tightened
    .words = clean-joint, clean
method-recharge = leak searched and recharged by a licensed person
    .words = recharge, charge
method-clean-condenser = condenser face cleaned
    .words = clean-condenser, wash
method-explain = driver shown how it is operated
    .words = explain, show

item-original = the original
    .words = original, old, same
item-spare = a known-good spare
    .words = spare, good, known-good

## What was done

did-go = Went to the { $station }.
did-set = Set { $control } to { $to }.
did-wait = Waited { $seconds } s.
did-protect = Put on eye protection and gloves.
did-uncover = Took off the { $cover }.
did-cover = Put the { $cover } back.
did-pull = Pulled { $part }.
did-fit = Fitted { $item } in the slot of { $part }{ $turned ->
    [yes] , turned half round
   *[no] {""}
  }.
did-unplug = Took the plug off: { $plug }.
did-plug = Pushed the plug on: { $plug }.
did-wiggle = Moved the harness about: { $place }.
did-spray = Sprayed water: { $place }.
did-look = Looked: { $place }.
did-inspect = Looked closely: { $place }.
did-listen = Listened: { $place }.
did-feel = Felt with the hand: { $place }.
did-light = Pointed the inspection lamp: { $place }.
did-light-away = Put the inspection lamp away.
did-put = Put the { $lead } of the { $tool } on { $point }.
did-lift = Took the { $lead } of the { $tool } off.
did-touch = Touched { $point } with the { $tool }.
did-sweep = Touched all cavities of the socket of { $part } with the { $tool }.
did-renew = Put a new bulb or fuse into the { $tool }.
did-dial = Turned the meter to { $dial }.
did-breakout = Plugged the breakout in at the socket of { $part }.
did-breakout-out = Took the breakout out.
did-gauge-on = Connected the gauge to the low-side port.
did-gauge-off = Took the gauge off.
did-thermometer = Held the thermometer: { $place }.
did-note = Noted: { $text }
did-hint = Asked for a hint of level { $level }.
did-call = Called it: { $target }, { $failure }.
did-repair = Put right: { $target }, { $method }.
did-hand-back = Gave the car back. Complaint: { $complaint }; cause: { $cause }; correction: { $correction }

## Why something cannot be done, and what to do

refused-handed-back = The car has been given back. Start the case again to try another way.
refused-unknown = There is no “{ $name }” on this car. Check the spelling, or list what there is.
refused-unknown-nearest = There is no “{ $name }” on this car. Did you mean “{ $nearest }”?
refused-no-such-position = { $control } has no such position. It has: { $positions }.
refused-go-first = That is out of reach from here. Go to the { $station } first.
refused-nothing-there = There is nothing to do there ({ $station }) in this case.
refused-cover-off = The { $cover } is off. Put it on first: rain falls on the closed box, and water on bare contacts would be a fault of your own.
refused-stands-open = { $what } stands open there. Close it first: water on bare terminals would be a fault of your own.
refused-no-water-there = Water has no business there. Spray where rain and spray from the road get to: under the bonnet.
refused-cover-on = The { $cover } is in the way. Take it off first.
refused-fitted = { $what } is in the way. Pull it or unplug it first, or use the breakout.
refused-stays-in = { $what } is not taken out to be looked at; only relays, fuses and plugs are. Look at the place where it is ({ $place }), measure at its terminals, or call it and repair it.
refused-not-fitted = { $what } is not in its place. Fit it or plug it on first.
refused-no-access = { $point } cannot be reached with a probe. Choose another point on the same wire.
refused-off-limits = { $what } belongs to an airbag or high-voltage circuit. Nobody touches it here: leave it alone and use another point.
refused-no-such-tool = The { $tool } is not in the roll for this case. Use one of the tools that are.
refused-wrong-use = The { $tool } cannot be used that way. Ask for help on the command to see which leads it has.
refused-lead-in-the-way = A lead of the { $tool } would be shut in. Take it off first.
refused-lead-free = The other lead of the { $tool } hangs free. Put it on a point first.
refused-same-point = Both leads would be on the same point. Choose another point for one of them.
refused-already-so = It is so already. Nothing to do.
refused-no-spare = There is no spare for { $part } on the bench. Test the original instead.
refused-does-not-turn = { $part } does not go in turned: its blades differ. Fit it the right way round.
refused-not-that-way = { $target } cannot be put right that way. Choose another way of repair.
refused-out-of-range = { $what } is too large. The most is { $most }.
refused-wait-too-long = One wait lasts at most { $seconds } seconds. Wait again for more.
refused-too-long = The text is too long. Keep it to { $most } characters.
refused-forbidden = The rules of this assignment do not allow it: { $rule }.
refused-stop-first = Not with the engine running or the key on. Stop the engine and turn the key off first.
refused-unsettled = The car's circuits do not settle with this done: these switch on and off without end. It was not done. Look at: { $parts }.
refused-unsolved = The currents in a part of the car's circuits cannot be found with this done. It was not done. Look at: { $parts }.

## Cases

draw-unknown-scenario = There is no scenario “{ $id }”. List the scenarios to see what there is.
draw-unknown-scenario-nearest = There is no scenario “{ $id }”. Did you mean “{ $nearest }”?
draw-unknown-vehicle = The scenario needs the vehicle “{ $id }”, which is not there. Put its file into the folder scenarios/vehicles.

## Attempt files

assignment-too-large = The file is larger than { $most } bytes, so it is no assignment.
assignment-not-text = The file is not UTF-8 text, so it is no assignment.
assignment-not-one = This is no assignment file: { $detail }
assignment-format = The assignment has format { $found }, this program reads format { $reads }: it was made by another version of the program, so use that one or ask the instructor for a new file.
assignment-wrong = { $at }: { $what }
attempt-empty = The file is empty. Nothing was recorded in it; start the case again.
attempt-too-large = The file is larger than { $most } bytes, which no attempt is. Choose another file.
attempt-line-too-long = Line { $line } is longer than { $most } bytes, which no action is. Choose another file, or cut that line and all after it.
attempt-too-many-lines = The file holds more than { $most } actions. Choose another file.
attempt-no-header = The first line is not the start of an attempt: { $detail }. Choose another file; if the program was stopped while making it, nothing was recorded and it can be deleted.
attempt-format = The attempt is written in format { $found }; this program reads format { $reads }. Open it with the program version that made it.
attempt-damaged-not-text = Line { $line } holds bytes that are no text. Restore the file from a copy, or cut that line and all after it to go on from there.
attempt-damaged-not-an-action = Line { $line } is not an action: { $detail }. Restore the file from a copy, or cut that line and all after it to go on from there.
attempt-damaged-out-of-order = Line { $line } is action number { $found } where number { $expected } was due: a line is missing, doubled or swapped. Restore the file from a copy.
attempt-other-scenario = The attempt was made on the scenario “{ $file }”, not on “{ $here }”. Open it with its own scenario.
attempt-other-version = The attempt was made on version { $file } of “{ $scenario }”; here is version { $here }. Use the program or data folder that has version { $file }, or start the case again.
attempt-other-engine = The attempt was made with engine revision { $file }; this program has revision { $here }, whose readings may differ. Open it with the program version that made it.
attempt-other-seed = The attempt was made on seed { $file }; here is seed { $here }. Open it with its own seed.
attempt-torn = The last line of the file, line { $line }, was cut off when the program was stopped. It was dropped; what it would have shown had never been seen.
attempt-content-changed = The scenario or vehicle file was changed without raising its version since this attempt was started. Readings are checked line by line all the same.

replay-refused = Line { $line } of the attempt cannot be done on this car: { $why } The file was edited, or the car's file was changed.
replay-unsolvable = The circuits of this car have no solution as its file describes them: { $detail }. Check the vehicle file.
replay-chain-differs = Line { $line } of the attempt does not agree with what the car shows: this line or one before it was edited, or the car's file was changed. What stands before line { $line } is good.

## Keeping files

shelf-cannot-read = { $path } cannot be read: { $detail }. Check its name and permissions.
shelf-cannot-list = The folder { $path } cannot be read: { $detail }. Check its name and permissions.
shelf-cannot-create = { $path } cannot be made: { $detail }. Choose another folder for saving, or say that nothing is to be saved.
shelf-cannot-write = { $path } cannot be written to: { $detail }. Make room or mend the permissions and try again, or go on without saving.
shelf-not-found = There is no file { $path }. Check the name.
shelf-no-home = No folder for saving is known on this system. Name one, or say that nothing is to be saved.
shelf-too-large = { $path } is larger than { $most } bytes, which no such file is. Choose another file.
shelf-not-text = { $path } is not a text file. Choose another file.
shelf-elsewhere = { $path } was added to in another window meanwhile. Nothing is lost: go on with it there, or go on here without saving.
shelf-in-use = { $path } is open in another running program. Close it there first.
shelf-attempt = { $path }: { $why }

## Cautions

cautions-title = Before you touch a real car
caution-law = Local codes and licensed practice come first. This is a simulator; it teaches reasoning, not your car's procedures.
caution-belts = Keep hands, hair, sleeves and leads away from belts and fans. A cooling fan can start at any time, also with the engine off.
caution-hot = Engine, exhaust and coolant parts burn. Let them cool.
caution-eyes = Wear eye protection under the hood, and gloves when you handle lines or batteries.
caution-refrigerant = Refrigerant is for licensed people only. It freezes skin, and releasing it is against the law in many places.
caution-off-limits = Airbag and high-voltage circuits (often yellow or orange) are off limits. Never probe them.
caution-exhaust = Never run an engine indoors without exhaust extraction.

# Assigned work
assigned-title = Assignment: { $title }
assigned-due = Due { $due } (UTC).
assigned-late = It was due { $due } (UTC). You can work on it; it will be marked late.
assigned-not-open = This assignment opens { $opens } (UTC).
assigned-tools = Tools allowed: { $tools }.
assigned-no-hints = Hints are off.
assigned-attempt = Attempt { $n } of { $most }. It counts from now on.
assigned-seen = A case with this number was worked on and given back here before. Your instructor will see that.
assigned-none-left = All { $most } attempts allowed at this task are used.
assigned-unknown = There is no learner “{ $id }” in this assignment. Use your id as it is on the class list.
