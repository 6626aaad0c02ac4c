# Scorecard, walk-back, hints and plans. English.

score-total = { $points } of 100 points (rubric { $rubric }, version { $version }).
score-passed = Passed.
score-not-passed = Not passed. What stood in the way:
score-gate-stop-work = A safety rule was broken that stops the work.
score-gate-wrong-call = The last call was not right.
score-gate-complaint-left = The complaint was still there when the car was handed back.
score-gate-below-pass-mark = Too few points.
score-gate-over-budget = More minutes than the customer was told.
score-gate-not-handed-back = The car was not handed back.
score-it-was = What was wrong: { $fault }.

score-part = { $part }: { $points } of { $most }.
score-part-call = Call
score-part-proof = Proof
score-part-order = Order of tests
score-part-economy = Economy
score-part-safety = Safety
score-part-parts = Parts
score-part-finish = Finish

score-line = { $points }, action { $n }: { $action } { $why }
score-line-whole = { $points }: { $why }
score-line-told = action { $n }: { $action } { $why }

score-call-right = Right place, right failure.
score-call-place = Right place, but something else is wrong with it.
score-call-wrong = It was something else.
score-no-call = Nothing was called.
score-earlier-wrong = A call before the last one that was not right.
score-proof = { $percent } % of what was possible spoke for it.
score-rivals = A test could still have ruled out: { $rivals }.
score-regret = Gave away { $minutes } against the best choice, on average.
score-economy = { $used } of testing; the best plan takes { $best } on this car.
score-over-budget = { $minutes } more than the customer was told.
score-sound-part = There was nothing wrong with it: { $part }.
score-kept = Done: { $habit }.
score-missed = Left undone: { $habit }.
score-hint = A hint of level { $level }.

score-habit-reproduced = the complaint met before work began
score-habit-retested = the complaint tried again the same way
score-habit-vent = the air felt or measured after the repair
score-habit-relays = all relays in
score-habit-fuses = all fuses in and whole
score-habit-plugs = all plugs on
score-habit-covers = all covers and caps on
score-habit-tools = no tool left on the car
score-habit-key = key off
score-habit-spares = spares back on the bench
score-habit-handed-back = handed back with complaint, cause and correction written

score-poor-redundant = Redundant: what you had seen already settled how it would come out.
score-poor-irrelevant = Irrelevant: it cannot tell apart what was still possible, in any state of the car that is safe to test in.
score-poor-premature = Premature: it says nothing in this state of the car, but it would in another.

## Labels

score-label-wire = { $colour } wire from { $from } to { $to }
score-label-slot = { $name } ({ $label })
score-label-terminal = terminal { $pin } of { $part }
score-fault = { $place }: { $failure }

## Tests

score-post-positive = battery positive
score-post-negative = battery negative
score-probe-light = test light clipped to { $post }, touch { $point }
score-probe-sweep = test light clipped to { $post }, touch every cavity of the socket of { $part }
score-probe-volts = volts from { $point } to battery negative
score-probe-ohms = ohms from { $a } to { $b }
score-probe-bridge = fused jumper across the load side of the socket of { $part }
score-probe-look = look with the lamp: { $place }
score-probe-feel = feel with the hand: { $place }
score-probe-inspect = take out and look closely: { $part }
score-probe-press = press home: { $plug }
score-probe-gauge = read the low-side gauge
score-probe-swap = a known-good spare for { $part }, and try the complaint again

## Walk-back

score-walk-action = Action { $n }, { $minutes }: { $action }
score-walk-open = Before it, { $count } outcomes were still open.
score-walk-certain = Its outcome was already certain.
score-walk-told = Uncertainty { $before } bits before, { $after } after; still possible: { $left }.
score-walk-possible = { $percent } %: { $candidate }
score-walk-better = Better: { $test } (car: { $state }). From there { $minutes } to a proven call, on average; your choice gave away { $given }.
score-walk-also-sound = Sound as well. By what usually fails on this car, this would have been quicker by { $given } on average: { $test } (car: { $state }). By other honest views of what fails, and of how long it takes to get at things, your choice was as good.
score-route-title = The best plan from your first test on, as it goes on this car:
score-route-title-known = The best known plan from your first test on, as it goes on this car (too many ways to try them all):
score-route-step = { $n }. { $test } (car: { $state }): at { $minutes }, { $bits } bits left.
score-state-control = { $control } { $at }
score-state-running = engine running
score-state-out = { $part } out
score-why-nothing-feeds = In this state ({ $state }) nothing feeds this point whichever of the faults it is, so dark says nothing. It would tell in: { $other }.
score-why-nothing-grounds = In this state ({ $state }) nothing grounds this point whichever of the faults it is, so dark says nothing. It would tell in: { $other }.
score-why-premature = In this state ({ $state }) all faults still possible show the same here. It would tell in: { $other }.
score-why-redundant = In this state ({ $state }) every fault that your own tests had left possible shows the same here.
score-why-irrelevant = In every state that is safe to test in, this point shows the same under every fault that was still possible.

## Hints

score-hint-price = A hint of level { $level } costs { $price } points of 100.
score-hint-nothing-left = What you have seen leaves one repair. Say what it is.
score-hint-where = Think { $section }: about { $percent } % of what is still possible lies there.
score-hint-half = Reach for { $family }, with the car so: { $state }.
score-hint-test = Next: { $test }, with the car so: { $state }.
score-section-relay = about the relay itself
score-section-feed = about what feeds the contacts, terminal { $terminal } of the socket
score-section-load = about the load side, from terminal { $terminal } of the socket to the load and its ground
score-section-coil-feed = about what feeds the relay's coil, terminal { $terminal }
score-section-control = about what switches the relay's coil, terminal { $terminal }
score-section-other = about the wire at terminal { $terminal } of the socket
score-section-beyond = beyond the relay's socket: what gives permission, what is asked for, and what is not electrical
score-family-light = the test light
score-family-jumper = the fused jumper
score-family-meter = the meter
score-family-senses = eyes, ears and hands
score-family-inspect = what can be taken out and looked at
score-family-swap = a known-good spare
score-family-gauge = the gauge

## Plans

score-plan-title = Best plan for { $title }, seed { $seed }: { $minutes } to a proven call on average.
score-plan-bound = The figure is what the best known plan takes; no plan takes less than { $lower }.
score-plan-complaint-stays = the complaint is still there
score-plan-complaint-gone = the complaint is gone
score-plan-nothing = nothing to be perceived
score-plan-group = { $candidates }

# Titles of the shipped rubrics
score-rubric-home = Practice at home
score-rubric-assignment = Graded assignment
score-rubric-shop = Shop sign-off
