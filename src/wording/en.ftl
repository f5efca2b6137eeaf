### What larderling says, in English. One message, one sentence or label; grouped by room.

## Amounts, days and lists

list-and = { $first } and { $last }
list-or = { $first } or { $last }
amount-unit = { $number } { $unit }
amount-range = { $low }-{ $high }
amount-some = some
amount-all = all
food-mass = { $amount } { $food }
food-units = { $food } ({ $amount })
food-pieces = { $number } { $food }
food-half = half the { $food }
food-third = a third of the { $food }
food-quarter = a quarter of the { $food }
food-share = { $share } of the { $food }
food-all = the { $food }
food-part = { $food } { $part }
form-cut = cut { $food }
form-in-water = { $food } in water
form-cooked = cooked { $food }
form-frozen = frozen { $food }
form-thawed = thawed { $food }
form-dried = dried { $food }
form-opened = opened { $food }
place-counter = on the counter
place-cool-dark = in a cool dark place
place-fridge = in the fridge
place-crisper = in the crisper
place-freezer = in the freezer
place-in-ground = in the ground
place-own = in the { $name }
to-counter = onto the counter
to-cool-dark = to a cool dark place
to-fridge = to the fridge
to-crisper = to the crisper
to-freezer = to the freezer
to-in-ground = into the ground
to-own = to the { $name }
the-counter = the counter
the-cool-dark = the cool dark place
the-fridge = the fridge
the-crisper = the crisper
the-freezer = the freezer
the-in-ground = the ground
the-own = the { $name }
day-today = today
day-yesterday = yesterday
day-tomorrow = tomorrow
day-date = { $day } { $month }
day-date-year = { $day } { $month } { $year }
span-minutes = { $count ->
    [one] { $count } minute
   *[other] { $count } minutes
}
span-hours = { $count ->
    [one] { $count } hour
   *[other] { $count } hours
}
span-days = { $count ->
    [one] { $count } day
   *[other] { $count } days
}
weekday-1 = Monday
weekday-2 = Tuesday
weekday-3 = Wednesday
weekday-4 = Thursday
weekday-5 = Friday
weekday-6 = Saturday
weekday-7 = Sunday
month-1 = January
month-2 = February
month-3 = March
month-4 = April
month-5 = May
month-6 = June
month-7 = July
month-8 = August
month-9 = September
month-10 = October
month-11 = November
month-12 = December
unit-gram = g
unit-kilogram = kg
unit-milligram = mg
unit-ounce = oz
unit-pound = lb
unit-stone = st
unit-milliliter = ml
unit-centiliter = cl
unit-deciliter = dl
unit-liter = l
unit-teaspoon = tsp
unit-tablespoon = tbsp
unit-fluid-ounce = fl oz
unit-cup = { $count ->
    [one] cup
   *[other] cups
}
unit-pint = { $count ->
    [one] pint
   *[other] pints
}
unit-quart = { $count ->
    [one] quart
   *[other] quarts
}
unit-gallon = { $count ->
    [one] gallon
   *[other] gallons
}
unit-piece = { $count ->
    [one] piece
   *[other] pieces
}
unit-dozen = dozen
unit-bunch = { $count ->
    [one] bunch
   *[other] bunches
}
unit-head = { $count ->
    [one] head
   *[other] heads
}
unit-bulb = { $count ->
    [one] bulb
   *[other] bulbs
}
unit-clove = { $count ->
    [one] clove
   *[other] cloves
}
unit-stalk = { $count ->
    [one] stalk
   *[other] stalks
}
unit-rib = { $count ->
    [one] rib
   *[other] ribs
}
unit-stick = { $count ->
    [one] stick
   *[other] sticks
}
unit-spear = { $count ->
    [one] spear
   *[other] spears
}
unit-sprig = { $count ->
    [one] sprig
   *[other] sprigs
}
unit-leaf = { $count ->
    [one] leaf
   *[other] leaves
}
unit-ear = { $count ->
    [one] ear
   *[other] ears
}
unit-slice = { $count ->
    [one] slice
   *[other] slices
}
unit-wedge = { $count ->
    [one] wedge
   *[other] wedges
}
unit-handful = { $count ->
    [one] handful
   *[other] handfuls
}
unit-pinch = { $count ->
    [one] pinch
   *[other] pinches
}
unit-dash = { $count ->
    [one] dash
   *[other] dashes
}
unit-drop = { $count ->
    [one] drop
   *[other] drops
}
unit-scoop = { $count ->
    [one] scoop
   *[other] scoops
}
unit-shot = { $count ->
    [one] shot
   *[other] shots
}
unit-jigger = { $count ->
    [one] jigger
   *[other] jiggers
}
unit-part = { $count ->
    [one] part
   *[other] parts
}
unit-inch = { $count ->
    [one] inch
   *[other] inches
}
unit-can = { $count ->
    [one] can
   *[other] cans
}
unit-jar = { $count ->
    [one] jar
   *[other] jars
}
unit-bottle = { $count ->
    [one] bottle
   *[other] bottles
}
unit-carton = { $count ->
    [one] carton
   *[other] cartons
}
unit-tube = { $count ->
    [one] tube
   *[other] tubes
}
unit-tub = { $count ->
    [one] tub
   *[other] tubs
}
unit-pot = { $count ->
    [one] pot
   *[other] pots
}
unit-package = { $count ->
    [one] package
   *[other] packages
}
unit-container = { $count ->
    [one] container
   *[other] containers
}
unit-envelope = { $count ->
    [one] envelope
   *[other] envelopes
}
unit-sheet = { $count ->
    [one] sheet
   *[other] sheets
}
unit-bag = { $count ->
    [one] bag
   *[other] bags
}
unit-sack = { $count ->
    [one] sack
   *[other] sacks
}
unit-box = { $count ->
    [one] box
   *[other] boxes
}
unit-crate = { $count ->
    [one] crate
   *[other] crates
}
unit-case = { $count ->
    [one] case
   *[other] cases
}
unit-basket = { $count ->
    [one] basket
   *[other] baskets
}
unit-bucket = { $count ->
    [one] bucket
   *[other] buckets
}
unit-punnet = { $count ->
    [one] punnet
   *[other] punnets
}
unit-tray = { $count ->
    [one] tray
   *[other] trays
}
unit-net = { $count ->
    [one] net
   *[other] nets
}
unit-bowl = { $count ->
    [one] bowl
   *[other] bowls
}
unit-plate = { $count ->
    [one] plate
   *[other] plates
}
unit-glass = { $count ->
    [one] glass
   *[other] glasses
}
unit-loaf = { $count ->
    [one] loaf
   *[other] loaves
}
unit-roll = { $count ->
    [one] roll
   *[other] rolls
}
unit-block = { $count ->
    [one] block
   *[other] blocks
}
unit-brick = { $count ->
    [one] brick
   *[other] bricks
}
unit-bar = { $count ->
    [one] bar
   *[other] bars
}
unit-cube = { $count ->
    [one] cube
   *[other] cubes
}
unit-knob = { $count ->
    [one] knob
   *[other] knobs
}
unit-portion = { $count ->
    [one] portion
   *[other] portions
}

## Kitchen: acknowledging what was told

told-on = { $deed } ({ $day })
told-left = { $deed }: { $left }
told-with-left = { $food } ({ $left })
left-nothing = none left
left-some = some left { $place }
left-exact = { $amount } left { $place }
deed-came-in = got { $foods }
deed-not-received = off the record, never came: { $foods }
deed-used = used { $foods }
deed-given = gave away { $foods }
deed-discarded = threw out { $foods }
deed-composted = composted { $foods }
deed-fed = fed { $foods } to the animals
deed-poured = poured away { $foods }
deed-frozen = froze { $foods }
deed-dried = dried { $foods }
deed-thawed = took { $foods } out of the freezer
deed-moved = moved { $foods } { $place }
deed-put-away = all put away
deed-cut = cut { $foods }, { $place }
deed-cut-plain = cut { $foods }
deed-cooked = cooked { $foods }
deed-opened = opened { $foods }
deed-made = made { $dish }
deed-made-with = made { $dish } with { $foods }
deed-in-water = { $foods } in water
deed-water-changed = changed the water: { $foods }
deed-water-changed-plain = changed the water
deed-counted = on record now: { $foods }
deed-gone = no longer on record: { $foods }
deed-gone-plain = took what is not there off the record
gone-note = Counted neither as eaten nor as waste.
deed-scraps = { $foods } in the trimmings bag
deed-stock = made { $foods } from the trimmings bag
deed-wanted = on the list: { $foods }
deed-unwanted = off the list: { $foods }
deed-trip-total = { $total } in all
deed-trip-total-split = { $total } in all: { $itemised } on the lines you gave me, { $rest } besides
deed-trip-planned = next shop { $day }
deed-away = away until { $day }
deed-eaters = { $people ->
    [one] one eats here { $day }
   *[other] { $people } eat here { $day }
}
deed-setting = { $key } is now { $value }
deed-still-here = still here: { $foods }
deed-still-here-plain = noted as still here
deed-left-out = noted what was left out
deed-outage = noted the time without power
deed-place-failed = noted that { $place } is off
undone = taken back: { $deeds }
mended = corrected: { $deeds }
redated = now on { $day }: { $deeds }
found-more = That is { $amount } more than I had on record.
found-none = I had no { $food } on record.
no-rule = I have no storage rule for { $foods }.
eat-by = Eat { $food } by { $day }.
eat-today = Eat { $food } today.
eat-never = Throw { $food } out: past its safe time.
water-covered = Keep it covered in the fridge; change the water { $day }.
water-stems = Stems only in the water, leaves dry, { $place }; change the water { $day }.
water-next = Next { $day }.
left-out-throw = Throw out { $foods }: out of the cold too long.
left-out-keep = Within the time limit: { $foods }. Put it back in the cold now.
left-out-keep-whole = No time limit for { $foods } at room temperature.
left-out-unsure = If { $foods } stood out for more than { $span }, throw it out.
outage-head = { $place } without power for { $span }.
outage-throw = Throw out: { $foods }.
outage-look = Look at: { $foods }. Still ice in it: refreeze or cook now. Otherwise throw it out.
outage-keep = Keep: { $foods }.
outage-nothing = Nothing in it is on record. When in doubt, throw it out.
place-failed-fridge = Keep the door of { $place } shut: it holds { $span }. Tell me when it is back on.
source-short = ({ $source })
trouble-too-much = That is more { $name } than a kitchen holds, so I did not record it. Please check the number.
trouble-no-amount = How much { $name }? I did not record it.
trouble-price = That price is too high to be right, so I did not record it.
trouble-future = { $day } is still to come, so I did not record it.
trouble-long-ago = { $day } is too long ago, so I did not record it.
trouble-undo = There is nothing to take back.
trouble-mend = I find nothing to correct.
trouble-mend-name = I find nothing about { $name } to correct.
trouble-put-away = Everything on record is put away already.
trouble-water = Nothing on record stands in water.
trouble-water-name = I have no { $name } standing in water on record.
trouble-not-on-record = I have no { $name } on record.
trouble-not-food = { $name } is not food, so I did not record it. Don't eat it.
trouble-setting-unknown = I have no setting called { $key }.
trouble-setting-value = { $key } takes { $wanted }; I left it as it was.
wants-tz = the name of a time zone such as Europe/Berlin
wants-post = a time such as 7:30
wants-evening = a time such as 19:00
wants-units = us or metric
wants-people = a number from 1 to 200
wants-currency = a three-letter code such as EUR
wants-country = a two-letter country code such as IE
wants-ack = line or reaction
wants-lang = a language code such as en
wants-target = a whole number of per cent from 0 to 100
wants-budget = an amount of money for a month, such as 400
wants-quiet-days = yes or no
wants-place = a temperature such as 7C or 45F
name-tz = the time zone
name-post = the morning post
name-evening = the evening round
name-units = units
name-people = the number of people
name-currency = the currency
name-country = the country
name-ack = how I answer
name-lang = the language
name-target = the waste target
name-budget = the month's budget
name-quiet-days = quiet days
trouble-no-food = I did not catch which food. Please name it.
asks-same-shop = Is that the { $foods } already on record, or more?
asks-same-use = Is that the same { $foods } somebody just told me about, or more?
asks-how-long = Was it out of the cold for more than { $span }?

## Answers: storage and safety

## Posts, plans and lists

post-head = Use first:
post-more = { $count ->
    [one] 1 more can wait.
   *[other] { $count } more can wait.
}
post-bad-day = A lot at once today. What matters most:
post-quiet = Nothing presses today.
post-nothing-new = Nothing new today.
post-quiet-next = Nothing presses today. Next: { $lot }, best by { $day }.
post-doubt = Nobody has told me anything for { $days } days, so I may be wrong. Most urgent on my list:
triage-out = Throw out: { $lots }.
triage-safety = Eat today or tomorrow at the latest: { $lots }.
triage-tonight = Cook tonight: { $lots }.
button-used-up-of = { $food }: used up
button-thrown-out-of = { $food }: thrown out
button-still-here-of = { $food }: still here
button-all-used-up = All used up
button-all-thrown-out = All thrown out
button-all-still-here = All still here

why-with-reason = { $text } ({ $reason })
why-out = past its last safe day
why-last-safe-day = { $day } is its last safe day
why-safe-until = safe only until { $time }
why-past-late = past the time it usually keeps
why-past-best = past its best in the freezer, still fine
why-may-freeze = it may freeze { $place } at { $celsius } °C
why-usual-range = usually keeps { $range } { $place }, { $age ->
    [0] came in today
    [one] in the house for 1 day
   *[other] in the house for { $age } days
}
why-days-left = { $days ->
    [0] its time is up today
    [one] about 1 day left
   *[other] about { $days } days left
}
why-chilled = the cold { $place } harms it
why-warm = { $span } at room temperature took much of its time
why-neighbour = { $maker } next to it make it age faster
why-printed = the package says { $day }

do-throw-out = Throw it out.
do-eat-or-freeze = Eat it today or freeze it.
do-eat-or-throw = Eat it by then, or throw it out.
do-look = Used up, thrown out or still here?
do-bring-in = Bring it in.
do-cook-or-freeze = Cook it today or freeze it.
do-use-today = Use it today.
do-soon = Use it by { $day }.
do-soon-or-freeze = Use it by { $day } or freeze it.
do-first-out = Take it out first.
do-keeps-until = Fine until { $day }.

chore-water = Change the water: { $lots }.
chore-water-late = Change the water, { $hours } hours late: { $lots }.
chore-water-overdue = Change the water or finish them today, { $hours } hours late: { $lots }.
chore-water-inspect = { $days } days without fresh water: { $lots }. Slimy, cloudy or smelling: throw out. Sound: fresh water now and cook them today.
chore-last-day = { $lot }: last day in water. Use today or throw out.
chore-past-last-day = { $lot }: past the last day in water. Throw out, or cook today only if sound in look and smell.

freeze-by = Freeze by { $day }: { $lots }.
some-of = about { $amount } of the { $food }

explain-row = Published: { $range } { $place } ({ $source }).
explain-own-rule = our own rule, no source
explain-own-rows = Between its own published figures that makes { $range } { $place } at { $celsius } °C.
explain-general-rule = By the temperature rule for fresh produce (USDA Handbook 66) that makes { $range } { $place } at { $celsius } °C.
explain-guess = I take { $place } as { $celsius } °C; tell me if it is not.
explain-stay = { $span } { $place } took { $percent } % of its life.
explain-neighbour = { $maker } in the same closed air take { $percent } % off.
explain-chilling = Below { $celsius } °C cold harms it; I expect that by { $day }.
explain-learned-shorter = Your own record shortens it by { $percent } %.
explain-learned-longer = Your own record lengthens it by { $percent } %.
explain-printed = The package says { $day }.
explain-frozen = Frozen, its fresh clock stands still.
explain-limit = Hard limit: { $when }, { $why } ({ $source }).
explain-limit-plain = Hard limit: { $when } ({ $source }).
explain-range = One in ten would be gone by { $early }, nine in ten by { $late }.
explain-best-until = Best until some time between { $early } and { $late }; not unsafe after.
explain-limp = Limp from about { $day }, which is no loss: cold water or the pot.
explain-unknown = I have no figure for how long this keeps.
explain-growing = Still in the ground: no clock runs.
days-under-one = less than a day
days-up-to = { $days ->
    [one] up to 1 day
   *[other] up to { $days } days
}
days-about = { $days ->
    [one] about 1 day
   *[other] about { $days } days
}
days-range = { $low } to { $high } days

## Set-up, help and manners

help-short = Text me as you would a housemate: "got 3 leeks and milk", "used half the squash", "what's first?"
help-examples = For example: "got 3 leeks and milk 4.20" · "used half the squash" · "cut up the celery, it's in water" · "what's first?" · "can you eat beet greens?" · "undo"
help-next = Start with what is in the house: "we have 3 leeks, half a squash and 2 lb carrots".
caution-general = General information, not medical advice. When in doubt, throw it out; your local food-safety authority and poison centre come first.
not-saved = That was not saved: something went wrong on my side. Please send it again.
nothing-to-undo = There is nothing to take back.
unsure = I'm not sure what you mean. { help-short }
unsure-about = I'm not sure what you mean by "{ $words }".
what-about = What about { $foods }?
cannot-read = I can only read text. Please write it in words.
cannot-judge-picture = Don't go by a picture. I can't judge food from a photo; if you don't know exactly what it is and how it was kept, don't eat it.
thanks-back = You're welcome.
choice-bought = Bought
choice-have = We have it
choice-used = Used
choice-thrown-out = Thrown out
button-undo = Undo
button-why = Why?
button-yes = Yes
button-no = No
button-put-away = All put away
button-not-yet = Not yet
button-changed = Changed
button-used-up = Used up
button-thrown-out = Thrown out
button-still-here = Still here
button-later = Later
no-why = I have no explanation ready. Ask "why?" right after an answer.
back-after = I was out of service from { $from } to { $to } and have read what you wrote since.
still-unclear = I did not understand: { $pieces }
noted = noted
left-as-it-is = Left as it is.
