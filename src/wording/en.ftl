### What larderling says, in English. One message, one sentence or label; grouped by room.

## Amounts, days and lists

list-separator = ,{" "}
list-and = { $first } and { $last }
list-or = { $first } or { $last }
list-more = { $first } and { $count } more
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
place-open-own = on the { $name }
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
deed-frozen = put { $foods } in the freezer
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
deed-in-water = put { $foods } in water
deed-water-changed = changed the water: { $foods }
deed-water-changed-plain = changed the water
deed-counted = on record now: { $foods }
deed-gone = no longer on record: { $foods }
deed-gone-plain = took what is not there off the record
gone-note = Counted neither as eaten nor as waste.
deed-scraps = { $foods } in the trimmings bag
deed-kept-out = left out of the trimmings bag: { $foods }
deed-bag-composted = composted what was in the trimmings bag
deed-bag-emptied = emptied the trimmings bag
bag-a-little = Only a little of the { $food }: { $why }.
bag-leave-out = Leave the { $food } out of the bag: { $why }. I did not count it in.
bag-spoiled = Leave the { $food } out of the bag: nothing spoiled goes in, boiling is no cure. I did not count it in.
bag-no-rule = Leave the { $food } out of the bag: I have no rule for it in stock. I did not count it in.
bag-too-strong = strong flavours fill more than a fifth of the bag, so mild scraps next
bag-ready = the bag is full enough: time to make stock
trouble-list-empty = The shopping list is empty.
trouble-bag-empty = There is nothing in the trimmings bag on record.
deed-stock = made { $foods } from the trimmings bag
deed-wanted = on the list: { $foods }
deed-unwanted = off the list: { $foods }
deed-trip-total = { $total } in all
deed-trip-total-split = { $total } in all: { $terms }
deed-trip-planned = next shop { $day }
deed-away = away until { $day }
deed-away-from = away from { $from } to { $day }
deed-away-on = away { $day }
deed-spoken-for = { $foods } kept for { $day }
deed-now = on record now: { $foods }
now-exact = { $food }, { $amount } { $place }
now-some = some { $food } { $place }
now-none = no { $food }
deed-eaters = { $people ->
    [one] one eats here { $day }
   *[other] { $people } eat here { $day }
}
deed-forgot-learned = forgot what your own record had taught about how long things last; learning anew
deed-setting = { $key } is now { $value }
deed-still-here = still here: { $foods }
deed-still-here-plain = noted as still here
deed-left-out = noted what was left out
deed-outage = noted the time without power
deed-place-failed = noted that { $place } is off
undone = taken back: { $deeds }
restored = back on record: { $deeds }
mended = corrected: { $deeds }
redated = now on { $day }: { $deeds }
found-more = That is { $amount } more than I had on record.
gone-since = I had the { $food } down as { $how ->
    [used] used up { $day }
    [given] given away { $day }
    [discarded] thrown out { $day }
   *[gone] no longer here since { $day }
}. Was that wrong?
found-none = I had no { $food } on record.
no-rule = I have no storage rule for { $foods }.
eat-by = Use the { $food } by { $day }.
eat-by-several = Use by { $day }: { $foods }.
eat-today = Use the { $food } today.
eat-today-several = Use today: { $foods }.
eat-never = Throw out the { $food }: past the last safe day.
eat-never-several = Throw out, past the last safe day: { $foods }.
eat-no-more = The { $food } had passed the last safe day: what is not eaten yet, throw out.
eat-no-more-several = Past the last safe day, so throw out what is not eaten yet: { $foods }.
water-covered = Keep { pronoun-object } covered in the fridge; change the water { $day }.
water-stems = Stems only in the water, leaves dry, { $place }; change the water { $day }.
water-stems-several = Stems only in the water, leaves dry: { $foods }; change the water { $day }.
water-stems-each = { $food } { $place }
water-next = Next: { $day }.
water-next-food = { $food } { $day }
left-out-throw = Throw out { $foods }: out of the cold too long.
left-out-keep = Within the limit: { $foods }. Put it back in the cold now.
left-out-keep-whole = No limit in hours for { $foods }.
left-out-unsure = Don't eat { $foods } until it is clear how long it stood out.
outage-head = { $place } was without power for { $span }.
outage-throw = Throw out: { $foods }.
outage-look = Look at: { $foods }. Still ice in it: refreeze or cook now. Otherwise throw it out.
outage-keep = Keep: { $foods }.
outage-nothing = Nothing in it is on record. When in doubt, throw it out.
place-failed-fridge = Keep the door of { $place } shut: it holds { $span }. Tell me when it is back on.
source-short = ({ $source })
trouble-too-much = That is more { $name } than a kitchen holds, so I did not record it. Please check the number.
trouble-no-amount = { $name }: that amount cannot be right, so I did not record it. How much was it?
trouble-price = That price is too high to be right, so I recorded nothing of it. Please send it again.
trouble-future = { $day } is still to come, so I did not record it.
trouble-long-ago = { $day } is too long ago, so I did not record it.
trouble-undo = There is nothing to take back.
trouble-mend = I find nothing to correct.
trouble-mend-name = I find nothing about { $name } to correct.
trouble-put-away = Everything on record is put away already.
trouble-water = Nothing on record stands in water.
trouble-water-name = On record no { $name } stands in water.
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
wants-ceiling = a price such as 2.40 a kilo
wants-bag = a volume such as 3 litres
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
name-learning = learning from your own record
name-ceiling = the price limit for { $food }
name-bag = the size of the trimmings bag
trouble-no-food = I did not catch which food. Please name it.
asks-same-shop = Is that the { $foods } already on record, or more?
asks-same-use = Is that the same { $foods } somebody just told me about, or more?
asks-which-one = Which { $food } do you mean, those of which day?
asks-long-ago = That was { $day }. Shall I still put the { $food } right?
asks-how-long = Was it out of the cold for more than { $span }?

## Answers: storage and safety

answer-toxic = Don't eat { $what }: { $why }
answer-not-food = Don't eat { $what }; it is not food: { $why }
answer-edible = Fine to eat: { $what }. { $why }
answer-edible-plain = Fine to eat: { $what }.
answer-cook-first = Cook first: { $what }. { $why }
answer-limited = Only with care: { $what }. { $why }
answer-unknown-part = Don't eat { $what } on my word: I have no checked information about that part.
answer-unknown-plant = Don't eat { $what } on my word: { $why }
answer-unknown-state = Don't eat { $what } on my word: I have no checked information about it in that state.
answer-unknown-food = Don't eat { $what } on my word: I have no checked information about it.
answer-unknown-this = Don't eat it on my word: I can't tell from here what it is.
answer-unknown-word = Don't eat { $what } on my word: I have nothing checked about "{ $word }".
answer-unknown-sign = Leave { $what } until somebody has looked closely: "{ $word }" is not a sign I have a rule for. When in doubt, throw it out.
answer-unknown-age = Don't eat { $what } before you know its age: { $limit } How old is it, and where did it stand?
answer-no-figure = I don't know: I have no checked figure for { $what } { $site }.
answer-no-rule = I don't know: I have no storage rule for { $what }.
answer-not-a-question = I don't know what you are asking. I answer questions about food: where it goes, how long it keeps, whether a part is eaten, whether it is still good, how to freeze or dry it. For example: "can you eat beet greens?"
answer-help-unknown = Ask your local extension service or poison centre; until then keep it out of the pot.
answer-other-apart = { $what }: ask me about that on its own.
answer-any-amount = A small amount, a clean smell or an old habit does not change that.
answer-poison-if-eaten = If somebody has eaten it: { $lines }
answer-source = Source: { $sources }.

answer-sign-use = Use { $what }: { $action }
answer-sign-limited = Only with care: { $what }. { $action }
answer-not-for-children = Don't give { $what } to children, nor eat it in pregnancy. { $action }
answer-sign-discard = Throw out { $what }. { $action }
answer-floor-discard = Throw it out: { $what }, "{ $word }". Spoiled food is not made good by cutting, rinsing or cooking, unless I have a rule that says so for it.
answer-mould-through = Mould in sliced, grated, cut or soft food, or inside a hollow, runs further than it shows: that is never trimmed.
answer-slime-check = Slime, mould, a bad smell: throw it out.

answer-age-past-limit = Throw out { $what }: { $limit } { $elapsed }
answer-age-within-limit = Use { $what } by { $day }: { $limit } { $elapsed }
answer-age-last-day = Use { $what } today, or throw it out: { $limit } { $elapsed }
answer-age-past-life = Throw out { $what }: usually { $range } { $site }. { $elapsed }
answer-age-over-life = Only with care: { $what }. Usually { $range } { $site }. { $elapsed } If it is firm, dry and clean, trim it and cook it today; otherwise throw it out.
answer-age-within-life = Use { $what }: usually { $range } { $site }. { $elapsed } { answer-slime-check }
answer-age-frozen = Use { $what }: frozen food kept hard frozen does not become unsafe, it only loses quality. Best within { $range }. { $elapsed }
answer-age-unknown = Don't eat { $what } on my word: I have no checked figure for how long it keeps { $site }. { $elapsed }
answer-elapsed-days = { $days ->
    [0] Today is its first day.
    [one] It is { $days } day old.
   *[other] It is { $days } days old.
}
answer-elapsed-hours = { $hours ->
    [one] It has been 1 hour.
   *[other] It has been { $hours } hours.
}
answer-limit-days = { $days ->
    [one] one day { $site } ({ $why }).
   *[other] { $days } days { $site }, the day of cooking or opening being day 1 ({ $why }).
}
answer-limit-hours = { $hours } hours { $site } ({ $why }).
answer-limit-short = { $days ->
    [one] one day
   *[other] { $days } days
}
answer-range-days = { $max ->
    [one] { $min ->
        [one] 1 day
       *[other] up to 1 day
    }
   *[other] { $same ->
        [yes] { $max } days
       *[no] { $min }-{ $max } days
    }
}
answer-range-weeks = { $same ->
    [yes] { $max ->
        [one] 1 week
       *[other] { $max } weeks
    }
   *[no] { $min }-{ $max } weeks
}
answer-range-months = { $same ->
    [yes] { $max ->
        [one] 1 month
       *[other] { $max } months
    }
   *[no] { $min }-{ $max } months
}
answer-sum-age = { $what }: counted from { $start }, day { $count } is today; the last day is { $last }.
answer-sum-alternative = Another published figure: { $range } { $site } ({ $source }).

answer-yours-past = Throw out yours ({ $what }, { $site }): { $day } was the last day. { $why }
answer-yours-use = Use yours ({ $what }, { $site }) by { $day }. { $why }

answer-keeps = Keep { $what } { $site }: { $range }.
answer-keeps-also = { $site }: { $range }.
answer-keeps-limit = Keep { $what } { $site } for { $limit } at most: { $why }
answer-keeps-frozen = Frozen: best within { $range }.
answer-place-best = Put { $what } { $site }. { $why }
answer-place-next = Next best: { $site }.
answer-water-stems = Stand { $what } with only the stems in water, { $site }; leaves dry. Change the water { $every }, { $longest } days at most.
answer-water-submerged = Keep cut { $what } covered with water, lid on, { $site }. Change the water { $every }, { $longest } days at most.
answer-water-hours = Cut { $what } in water: covered, { $site }, { $hours } hours at most.
answer-water-not = Don't stand { $what } in water: I have no rule that says it keeps there.
answer-every = { $days ->
    [one] every day
   *[other] every { $days } days
}

answer-out-discard = Throw out { $what }: { $limit } at room temperature is the limit, and heating does not undo it. { $elapsed }
answer-out-never = Don't keep { $what } at room temperature at all, not even for an hour.
answer-out-never-discard = Throw out { $what }: it must not stand at room temperature at all.
answer-out-use = Use { $what } now or put it in the fridge: { $limit } at room temperature is the limit. { $elapsed }
answer-out-do-not = Don't leave { $what } out: { $limit } at room temperature is the limit, then throw it out.
answer-out-fine = Use { $what }: it may stand at room temperature. { answer-slime-check }
answer-out-whole-only = Only with care: { $what }. Whole and raw may stand at room temperature; cooked, cut or peeled goes out after { $limit }.
answer-out-unknown-discard = Throw it out: I have no rule for { $what }, and perishable food is out after { $limit } at room temperature. { $elapsed }
answer-out-unknown = Don't eat { $what } on my word: I have no rule for it. Perishable food is out after { $limit } at room temperature.
answer-hours = { $hours ->
    [one] 1 hour
   *[other] { $hours } hours
}
answer-minutes = { $minutes } minutes
answer-heat = In great heat (above { $degrees }) { $limit }.

answer-outage-fridge-keep = Use what was in the fridge: shut, it keeps cold for { $limit }. { $elapsed } Keep the door closed.
answer-outage-fridge-out = Throw out what spoils: a shut fridge keeps cold for { $limit }, and { $elapsed } Out: meat, fish, cooked food, milk, soft cheese, cut fruit and vegetables, tofu. Keep: whole fruit and vegetables, whole herbs, hard cheese, butter, bread.
answer-outage-freezer-keep = Use what is in the freezer, or leave it shut: it holds { $full } full, { $half } half full. { $elapsed }
answer-outage-freezer-look = Only with care: a half-full freezer holds { $half }, a full one { $full }, door shut. { $elapsed } What still has ice crystals may be refrozen or cooked today; what is thawed and warm goes out.
answer-outage-freezer-out = Throw out what has thawed and is warm: filled like this, a shut freezer holds { $full }. { $elapsed } Keep only what still has ice crystals.
answer-outage-how = Keep the doors shut: the fridge holds { $fridge }, the freezer { $full } full and { $half } half full. After that, meat, fish, cooked and cut food go out. How long has it been off?

answer-freeze = Freeze { $what } like this: { $how }
answer-freeze-not = Don't bother freezing { $what }: { $how }
answer-freeze-months = Best within { $range }.
answer-dry = Dry { $what } like this: { $how }
answer-dry-not = Don't bother drying { $what }: { $how }
answer-preserve-unknown = I don't know how { $what } takes to that: I have no checked method for it.
answer-blanch = Blanch { $time } first, then chill in ice water.
answer-blanch-none = No blanching needed.
answer-time-seconds = { $seconds } seconds
answer-time-minutes = { $minutes ->
    [one] 1 minute
   *[other] { $minutes } minutes
}
answer-time-minutes-half = { $minutes } 1/2 minutes
answer-wash-unknown = Wash { $what } just before use, under running water, no soap.
answer-apart = Keep { $maker } and { $other } apart: { $maker } { $plural ->
    [one] gives
   *[other] give
} off ethylene, which ages { $other } sooner.
answer-apart-listed = Keep { $maker } and { $other } apart: { $why }
answer-apart-raw = Don't put raw { $maker } beside { $other }: raw juices carry germs. Raw { $maker } goes wrapped, on the lowest shelf.
answer-together = Put { $first } and { $second } side by side if you like: neither spoils the other by ripening gas.
answer-alone-maker = Keep { $what } away from leafy greens, broccoli, carrots, cucumbers and herbs: it gives off ethylene, which ages them.
answer-alone-fears = Keep { $what } away from apples, pears, ripe bananas, melons and tomatoes: their ethylene ages it.
answer-alone-neutral = Put { $what } where you like among fruit and vegetables: it neither makes nor minds ripening gas much.
answer-weight = One { $unit } of { $what } weighs about { $grams } g ({ $ounces } oz).
answer-weight-piece = One { $what } weighs about { $grams } g ({ $ounces } oz).
answer-weight-sized = One { $size } { $what } weighs about { $grams } g ({ $ounces } oz).
answer-weight-edible = About { $percent } % of it is eaten.
answer-weight-unknown = I don't know: I have no weight for { $what }.
answer-convert = { $from } { $unit } is { $grams } g.
answer-convert-volume = { $from } { $unit } is { $millilitres } ml.
answer-uses = Use { $what } up: { $uses }.
answer-uses-freeze = What you won't eat in time, freeze.
answer-uses-unknown = I don't know a use for { $what } beyond what you would cook anyway. Ask me how to freeze it.
answer-bag-good = Put { $what } in the bag: { $why }
answer-bag-some = Only a little in the bag: { $what }. { $why }
answer-bag-not = Don't put { $what } in the bag: { $why }
answer-bag-refused = Don't put { $what } in the bag: nothing spoiled goes in, boiling is no cure.
answer-bag-unknown = Don't put { $what } in the bag: I have no rule for it.
answer-bag-what = Put in clean ends, peels and stems: { $good }. A little: { $some }. Leave out: { $out }, and anything mouldy, slimy or unknown.
answer-who = Not everybody should eat { $what }: { $text }
answer-who-none = I don't know of a published warning about { $what } for one group of people; ask a doctor or midwife.
answer-who-refuse = Ask a doctor or midwife first; I don't advise on that.
answer-who-listed = Ask a doctor first: { $text }
answer-pets = Don't feed it on my word; ask a vet.
answer-pets-never = Don't feed { $what } to animals: { $text } Ask a vet if they had some.
answer-animals-unknown = Don't feed it on my word: I don't know about { $what } for them. Spoiled or mouldy never.
answer-thaw-warm = Don't thaw it in the warm: the outside spoils while the middle is frozen. { $text }
answer-reheat-again = Don't reheat it a second time: { $text }
answer-label-past-use-by = Throw it out: { $day } was the use-by date, and that one is about safety.
answer-label-before-use-by = Use { $what } by { $day }: the use-by date is about safety.
answer-label-past-best = Use { $what } if it looks, smells and feels as it should: "best before" is about quality. { answer-slime-check }

answer-eaten = { $lines } Don't wait for symptoms and don't make anybody vomit unless they tell you to. Keep a piece of it, or a photo, to describe what was eaten, how much and when.
answer-eaten-animal = Call a vet or an animal poison service now, and say what was eaten, how much and when. Don't wait for signs, and don't make the animal vomit unless they tell you to. Keep a piece of it or the pack. For a person: { $line }
answer-eaten-poison = Call { $name } now: { $number }.
answer-eaten-poison-unknown = Call your local poison centre now.
answer-eaten-closed = { $name } ({ $number }) does not answer at this hour: call a doctor or the emergency number now.
answer-eaten-emergency = Emergency number { $number } if anybody collapses, has a fit, can't breathe or won't wake.
answer-eaten-emergency-unknown = Your local emergency number if anybody collapses, has a fit, can't breathe or won't wake.
answer-call-short = call { $number } ({ $name }).
answer-call-unknown = call your local poison centre.

answer-where-counter = on the counter
answer-where-cool-dark = in a cool, dark place
answer-where-fridge = in the fridge
answer-where-crisper = in the crisper drawer of the fridge
answer-where-freezer = in the freezer
answer-where-in-ground = in the ground
answer-where-own = in the { $name }
answer-form-whole = { $what }
answer-form-cut = cut { $what }
answer-form-in-water = { $what } in water
answer-form-cooked = cooked { $what }
answer-form-frozen = frozen { $what }
answer-form-thawed = thawed { $what }
answer-form-dried = dried { $what }
answer-form-opened = opened { $what }
answer-state = { $state } { $what }
answer-part-of = { $food } { $part }
answer-it = it
answer-this = this
answer-and = { $first } and { $second }
answer-day = { $weekday ->
    [Mon] Monday
    [Tue] Tuesday
    [Wed] Wednesday
    [Thu] Thursday
    [Fri] Friday
    [Sat] Saturday
   *[Sun] Sunday
} { $date }
answer-today = today
answer-tomorrow = tomorrow
answer-yesterday = yesterday
answer-why-head = Where this comes from:
answer-why-source = { $short }: { $full } (grade { $grade })
answer-why-disagree = { $short } says otherwise: { $verdict }. I go by the better source, and by the stricter of equals.
answer-why-none = This rests on no published source of mine; that is why I hold back.

## Posts, plans and lists

post-head = Use first:
post-more = { $count ->
    [one] 1 more can wait.
   *[other] { $count } more can wait.
}
post-ran-low = Running low before the next shop: { $foods }.
post-still-out = Put away yet? I count as still out: { $foods }.
post-bad-day = A lot at once today. What matters most:
post-quiet = Nothing presses today.
post-nothing-new = Nothing new today.
post-quiet-next = Nothing presses today. Next: { $lot }, best by { $day }.
post-doubt = Nobody has told me anything for { $days } days, so I may be wrong. Most urgent on my list:
post-off-list = Off the list after a week without a word, counted neither as eaten nor as waste: { $lots }.
leaving-head = Away until { $day }. Before you leave:
leaving-eat = Eat tonight or give away: { $lots }.
leaving-freeze = Freeze: { $lots }.
leaving-water = Out of the water: { $lots }. Eat, cook or freeze them tonight.
back-home-head = Welcome back.
back-home-look = Look at before you use it: { $lots }.
triage-out = Throw out: { $lots }.
triage-safety = Use by tomorrow at the latest, or freeze: { $lots }.
triage-tonight = Cook tonight: { $lots }.
button-used-up-of = { $food }: used up
button-thrown-out-of = { $food }: thrown out
button-still-here-of = { $food }: still here
button-all-used-up = All used up
button-all-thrown-out = All thrown out
button-all-still-here = All still here

# What is spoken of as one thing or as several, by $number.
pronoun = { $number ->
    [one] it
   *[other] they
}
pronoun-object = { $number ->
    [one] it
   *[other] them
}
pronoun-owner = { $number ->
    [one] its
   *[other] their
}
why-with-reason = { $text } ({ $reason })
why-out = past { pronoun-owner } last safe day
why-last-safe-day = { $day } is { pronoun-owner } last safe day
why-safe-until = safe only until { $time }
why-past-late = { $number ->
    [one] past the time it usually keeps
   *[other] past the time they usually keep
}
why-past-best = past { pronoun-owner } best in the freezer, still fine
why-may-freeze = { pronoun } may freeze { $place } at { $celsius } °C
why-usual-range = usually keeps { $range } { $place }, { $age ->
    [0] came in today
    [one] in the house for 1 day
   *[other] in the house for { $age } days
}
why-days-left = { $days ->
    [0] about { pronoun-owner } last good day
    [one] about 1 day left
   *[other] about { $days } days left
}
why-any-day = may go off any day now
why-chilled = the cold { $place } harms { pronoun-object }
why-warm = { $span } at room temperature took much of { pronoun-owner } time
why-neighbour = { $maker } next to { pronoun-object } make { pronoun-object } age faster
why-printed = the package says { $day }

do-throw-out = Throw { pronoun-object } out.
do-eat-or-freeze = Eat { pronoun-object } today or freeze { pronoun-object }.
do-eat-or-throw = Eat { pronoun-object } by then, or throw { pronoun-object } out.
do-cook-or-throw = Cook { pronoun-object } by then, or throw { pronoun-object } out.
do-look = Used up, thrown out or still here?
do-bring-in = Bring { pronoun-object } in.
do-cook-or-freeze = Cook { pronoun-object } today or freeze { pronoun-object }.
do-use-or-freeze = Use { pronoun-object } today or freeze { pronoun-object }.
do-use-today = Use { pronoun-object } today.
do-soon = Use { pronoun-object } by { $day }.
do-soon-or-freeze = Use { pronoun-object } by { $day } or freeze { pronoun-object }.
do-first-out = Take { pronoun-object } out first.
do-keeps-until = Fine until { $day }.

chore-water = Change the water: { $lots }.
chore-water-late = Change the water, { $hours } hours late: { $lots }.
chore-water-overdue = Change the water or finish them today, { $hours } hours late: { $lots }.
chore-water-inspect = { $days } days without fresh water: { $lots }. Slimy, cloudy or smelling: throw out. Sound: fresh water now and cook them today.
chore-last-day = { $lot }: last day in water. Use today or throw out.
chore-past-last-day = { $lot }: past the last day in water. Throw out, or cook today only if sound in look and smell.

nothing-first = Nothing on my list has to be eaten soon.
have-none = No { $food } on my list.
have-nothing = Nothing is on my list. Tell me what you have.
have-nothing-at = Nothing { $place } on my list.
have-line = { $lot } { $place }.
have-line-note = { $lot } { $place }: { $note }.
have-lots = { $lots }
have-lots-more = { $lots } and { $more } more
note-doubtful = not sure it is still there
note-use-by = use by { $day }

plan-head = Until { $day }:
plan-all-keeps = Everything on my list keeps that long.
lot-by-day = { $lot } (by { $day })
plan-wont-last = Will not last that long, use first: { $lots }.
plan-wont-last-more = Will not last that long, use first: { $lots } and { $more } more.
plan-day = { $day }: { $lots }.
freeze-how = To freeze { $food }: { $how }
plan-too-much = More than you can eat or freeze in time: { $lots }. Give some away?
plan-short = Vegetables and fruit run short from { $day }: about { $amount } too little.
plan-no-weight = Not in these sums, since I know no weight: { $lots }.

need-listed = { $food }: on the list.
need-not-listed = { $food }: not on the list.
need-nothing = The list is empty.
need-list = On the list: { $foods }.
need-base = To last to the shop after this one: { $items }.
need-usual = Usually here, and none on record now: { $foods }.
basket-empty = Tell me what you want to buy and how much, or put it on the list.
basket-too-much = { $item }: about { $over } more than you can eat in time. It keeps { $range }.
basket-too-much-here = Not before it is used up, there is more than you can eat in time: { $foods }.
basket-enough = Enough in the house until { $day }: { $foods }.
bought-too-much = More than you can eat in time: { $foods }. Freeze or share it early?
basket-fine = Fine to buy: { $items }.
basket-unknown = I cannot judge without a weight or a storage figure: { $items }.
basket-keepers = What keeps for weeks instead: { $foods }.

put-away-not-fridge = { $foods }: { $place }, not in the fridge.
put-away-at = { $foods }: { $place }.
put-away-apart = Keep the { $makers } away from the { $fearing }: closed bag or another drawer.
put-away-at-once = { $foods }: into the fridge now.
put-away-usual = Everything to its usual place?

ledger-empty = I have no figures yet: nothing with a weight has come in.
period-today = today
period-yesterday = yesterday
period-week = this week
period-last-week = last week
period-so-far = { $name } so far
period-all-of = { $name }
period-all = since we began
ledger-totals = { $period }: { $came } came in, { $eaten } eaten, { $hand } on hand.
ledger-composted = { $amount } composted
ledger-fed = { $amount } fed to animals
ledger-thrown-out = { $amount } thrown out
ledger-given = { $amount } given away
ledger-out = { $terms }.
ledger-share = Food wasted: { $percent } % of what was used.
ledger-share-target = Food wasted: { $percent } % of what was used; your target is { $target } %.
ledger-no-share = Too little so far for a share of waste.
ledger-uncounted = { $amount } left without anybody saying how, so these figures are rough.
ledger-more-out = { $amount } more went out than I knew of, so these figures are rough.
lost-amount = { $food } ({ $amount })
lost-amount-reason = { $food } ({ $amount }; { $reason })
lost-times = { $times ->
    [one] { $food } (once)
    [2] { $food } (twice)
   *[other] { $food } ({ $times } times)
}
lost-times-reason = { $times ->
    [one] { $food } (once; { $reason })
    [2] { $food } (twice; { $reason })
   *[other] { $food } ({ $times } times; { $reason })
}
ledger-lost-most = Lost most: { $food }.
ledger-lost-in = { $period }, lost most: { $foods }.
ledger-lost-cost = That food cost { $cost }, as far as I know prices.
ledger-nothing-lost = { $period }: nothing thrown out or composted, as far as I know.
suggest-part = About { $part ->
    [quarter] a quarter
    [third] a third
    [half] half
    [two-thirds] two thirds
   *[most] most
} of the { $food } is not eaten: buying that much less would do.
suggest-part-freeze = About { $part ->
    [quarter] a quarter
    [third] a third
    [half] half
    [two-thirds] two thirds
   *[most] most
} of the { $food } is not eaten: buy that much less, or freeze it on the day it comes.
suggest-less = A smaller amount of { $food } at a time may do.
suggest-freeze = A smaller amount of { $food } at a time may do, or freeze some on the day it comes.
ledger-food = { $food }, { $period }: { $came } came in, { $eaten } eaten, { $lost } lost.
ledger-paid = Paid for it: { $paid }.
ledger-spent = Spent this month: { $spent }.
ledger-spent-in = { $period }: { $spent } spent.
ledger-no-spending = Nothing spent this month, as far as I know.
ledger-no-budget = No budget is set: tell me "budget 400".
ledger-budget = Spent this month: { $spent } of { $budget }, { $left } left.
ledger-over-budget = Spent this month: { $spent } of { $budget }, { $over } over.
ledger-forecast = About { $likely } by the end of the month, going by your shops.
ledger-forecast-range = About { $likely } by the end of the month, going by your shops ({ $low } to { $high }).
ledger-trip = { $day }: { $cost } in all.
ledger-trip-split = Of it { $terms }.
bill-food = { $money } on food
bill-deposit = { $money } deposit
bill-returned = { $money } back for bottles
bill-fee = { $money } fees
bill-goods = { $money } on other goods
bill-discount = { $money } off
bill-tax = { $money } tax
bill-besides = { $money } besides
bill-less = { $money } less than the lines come to
ledger-no-trip = I know of no shop with a price yet.
trip-on = Next shop: { $day }.
trip-likely = No day is set. Going by your shops so far: { $day }.
trip-unknown = No day is set, and I know too few shops to guess. Tell me: "shop is on the 12th".
bag-empty = The trimmings bag is empty.
bag-holds = In the trimmings bag: { $scraps }.
bag-holds-more = In the trimmings bag: { $scraps } and { $more } more.
bag-filled = About { $percent } % full; the oldest scraps are from { $oldest }.
bag-time-for-stock = Time to make stock: the trimmings bag is full enough.
bag-old = Time to make stock or empty the trimmings bag: the oldest scraps are from { $oldest }.
freezer-month = From the freezer this month, oldest first: { $lots }.
freezer-empty = Nothing in the freezer on my list.
freezer-head = From the freezer, oldest first:
freezer-line = { $lot }. Best by { $best }.
freezer-line-plain = { $lot }.
stored-since = { $lot } (since { $day })
label-amount = { $food }, { $amount }
label-frozen = frozen { $since }
label-dried = dried { $since }
label-best = best by { $best }
label-copy = Label: { $label }
label-none = I have no frozen or dried { $food } on record to label.
price-kilo = { $money } a kilo
price-pound = { $money } a pound
price-per = { $money } / { $unit }
price-each = { $money } each
price-good = Good price for { $food }: { $price } is in the lowest quarter of what you paid ({ $lower } or less).
price-usual = A usual price for { $food }: half of what you paid lies between { $lower } and { $upper }.
price-high = High for { $food }: at { $price } it is in the highest quarter of what you paid ({ $upper } or more).
price-few = Not enough history to say: { $seen ->
    [one] one price
   *[other] { $seen } prices
} for { $food } so far, the lowest { $lowest }. I need five.
price-none = Not enough history to say: I know no price you paid for { $food }.
price-no-measure = I cannot compare that price for { $food }: tell me what it is for, such as "a kilo" or "each".
price-over-ceiling = Above your limit of { $limit }.
price-under-ceiling = Within your limit of { $limit }.
price-paid = { $food }: last { $last }; { $seen ->
    [one] the only price I know
   *[other] { $low } to { $high } over { $seen } purchases
}.
price-buy-whole = Buy them whole: { $whole } for the { $food } you eat, against { $cut } cut for you. Whole is the better buy up to { $limit }.
price-buy-cut = Buy them cut: { $cut } for the { $food } you eat, against { $whole } whole. Whole is the better buy up to { $limit }.

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
lesson-longer = { $food } { $place }: with you they last about { $part ->
    [a-fifth] a fifth
    [a-quarter] a quarter
    [a-third] a third
    [half] half
   *[other] { $percent } %
} longer than the book says ({ $cases } outcomes).
lesson-shorter = { $food } { $place }: with you they last about { $part ->
    [a-fifth] a fifth
    [a-quarter] a quarter
    [a-third] a third
    [half] half
   *[other] { $percent } %
} less long than the book says ({ $cases } outcomes).
explain-learned-shorter = Your own record ({ $cases ->
    [0] of other food there
    [one] 1 outcome
   *[other] { $cases } outcomes
}) shortens it by { $percent } %.
explain-learned-longer = Your own record ({ $cases ->
    [0] of other food there
    [one] 1 outcome
   *[other] { $cases } outcomes
}) lengthens it by { $percent } %.
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

## Pictures and their text

board-item = { $label } ({ $value })
board-line = { $heading }: { $items }.
board-date = { $weekday }, { $day } { $month }
day-short = { $weekday } { $day }
day-from = { $day } on
weekday-short-1 = Mon
weekday-short-2 = Tue
weekday-short-3 = Wed
weekday-short-4 = Thu
weekday-short-5 = Fri
weekday-short-6 = Sat
weekday-short-7 = Sun
board-house = What is in the house
board-freezer = In the freezer, oldest first
board-plan = Plan until { $day }
board-no-plan = Nothing fresh with a known weight is on my list, so there is nothing to plan.
board-group-out = Throw out
board-group-today = Today
board-group-soon = Within 3 days
board-group-week = Within a week
board-group-later = Later
board-group-no-figure = No figure known
board-group-past-best = Past their best, still fine
board-group-frozen = Frozen
board-group-freeze = Freeze or dry, since it will not be eaten in time
board-group-lost = Lost most
board-percent = { $percent } %
board-target = your target { $percent } %
board-budget = your budget { $budget }
board-lost = { $food }: { $reason }
board-times = { $count ->
    [one] once
   *[other] { $count } times
}
board-rough = Much is unaccounted for, so the share of waste is rough.
board-value-waste = Food wasted
board-value-no-share = too little yet
board-value-no-target = no target set
board-value-spent = Money spent
board-value-no-budget = no budget set
board-value-out = out
board-value-look = look
board-value-today = today
board-value-unknown = ?
board-value-away = away
board-value-nothing = nothing fresh left
board-doubtful = { $lot }, still there?
board-by = by { $day }
board-more = { $count ->
    [one] 1 more lot keeps longer.
   *[other] { $count } more lots keep longer.
}
board-more-days = { $days ->
    [one] 1 more day after these.
   *[other] { $days } more days after these.
}
board-kept-frozen = { $frozen ->
    [one] 1 frozen lot besides.
   *[other] { $frozen } frozen lots besides.
}
board-kept-dried = { $dried ->
    [one] 1 dried lot besides.
   *[other] { $dried } dried lots besides.
}
board-kept-both = { $frozen } frozen and { $dried } dried lots besides.
board-dried = Dried: { $lots }.
board-days = { $count ->
    [one] 1 day
   *[other] { $count } days
}
board-weeks = { $count ->
    [one] 1 week
   *[other] { $count } weeks
}
board-months = { $count ->
    [one] 1 month
   *[other] { $count } months
}
board-legend-house = Days left. Solid: nine in ten are still good. Striped: may be gone or may keep.
board-legend-plan = Bar: how much of the day's vegetables and fruit there is.
board-legend-month = Food wasted is a share of what was used. Line: your limit. Striped: likely by the month's end.
board-legend-freezer = Months in the freezer. Line: best until then; not unsafe after.

## What is exported

calendar-morning-post = Use-first list in the kitchen chat
calendar-evening-round = Evening reminder in the kitchen chat
calendar-shop = Food shop
calendar-away = Away from home
calendar-water-change = Change the water: { $food }
calendar-turnover = Last day in water, use today or throw out: { $food }
labels-title = Labels for freezer bags and jars
labels-none = Nothing is frozen or dried, so there is nothing to label.

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
button-picture = Picture
button-yes = Yes
button-no = No
button-put-away = All put away
button-not-yet = Not yet
button-changed = Changed
button-used-up = Used up
button-thrown-out = Thrown out
button-still-here = Still here
button-later = Later
button-count = Count together
button-put-back = That was wrong
button-some-thrown-out = Some thrown out
name-unit = a { $food }
wants-unit = a weight such as 3 kg or 5 lb
what-is-unit = How much is a { $unit }, roughly? For example "3 kg". I keep it.
what-is-place = How cold is it { $place }, roughly? For example "8C". I keep it.
which-thrown-out = Which of it was thrown out? Just name it.
button-all-there = All there
button-skip = Next place
button-stop = Stop here
button-quick-count = Quick count
back-incomplete = That was more than a day, so messages may be missing. Shall we count what is here?
somebody-joined = Welcome. I keep track of the kitchen: text me what comes in, goes out or stands where. I keep what is said about food and nothing else; anybody can say "undo".
somebody-left = Somebody has left. Their chores are open to everybody again, and what is on record stays with the kitchen.
who-eats-now = Do { $now } eat here now, instead of { $before }?
at-chores = Thank you. I will not ask again before { $time }.
count-place = { $place }:
count-quick = Quick count.
count-lots = I have { $lots }.
count-nothing = I have nothing there on record.
count-how = What is different? For example "2 leeks, no milk".
count-done = That was the whole count, thank you.
count-left = Fine, the rest can wait. Say "count" to go on.
count-nothing-to-do = Nothing is on record to count. Tell me what is here, place by place.
choice-yes = Yes
choice-no = No
choice-same = The same
choice-more = More
no-why = I have no explanation ready. Ask "why?" right after an answer.
back-after = I was out of service from { $from } to { $to } and have read what you wrote since.
still-unclear = I did not understand: { $pieces }
noted = noted
left-as-it-is = Left as it is.
too-long-to-say = … and more than fits here. Ask about one thing at a time.

## A member of the group

welcome = Hello, I keep the kitchen's record for all of you. Text about food as you would tell a housemate: I note what comes in and goes out, and say each morning what to eat first. Chatter I let pass. Three taps and we begin; or ignore them, the usual settings hold already.
welcome-back = I am back, and the kitchen's record is as it was.
admitted = You are in: here you speak to the same kitchen as the group does.
cannot-hear = One thing first: this group's messages do not reach me, only commands and answers to me. So that plain texts count, either make me an administrator of the group, or have whoever runs me turn group privacy off and add me again. Until then, answer one of my messages or begin with a command such as /have.
invite = For one person, once, within a week: { $link }
invite-nowhere = Invites are for the messenger; there is nobody to invite here.
invite-used = That invite was used already or has run out. Ask in the group for a new one: "larderling, invite".
set-up-zone = 1 of 3. Where is the kitchen? Tap a region, or type the nearest big city.
set-up-city = 1 of 3. { $region }: which city keeps your time? Tap, or type it.
set-up-hour = 2 of 3. { $city } time, so it is { $time } with you now. When shall the morning post come? Tap, or say "larderling, post at 7:15".
set-up-money = 3 of 3. The morning post comes at { $post }. Which units and money? Tap, or say "larderling, currency SEK".
set-up-done = All set: { $city } time, morning post at { $post }, { $money }. Next, tell me what is in the house: "we have 3 leeks, half a squash and 2 kg potatoes". To change anything: "larderling, settings".
from-to = { $first } to { $last }
region-africa = Africa
region-america = The Americas
region-asia = Asia
region-atlantic = Atlantic islands
region-australia = Australia
region-europe = Europe
region-indian = Indian Ocean
region-pacific = Pacific islands
units-us = Pounds and cups
units-metric = Kilos and litres
money-choice = { $units }, { $currency }
button-back = Back
button-keep-zone = Keep { $city } time
button-keep-money = Leave as it is
button-send-it = Send it
button-delete-all = Delete it all
button-forget = Forget
button-keep = Keep it
button-undo-too = Undo: { $deeds }

language = English
settings-head = How this kitchen is set:
settings-row = { $key }: { $value }
settings-own = How I speak to you: { $style }.
settings-how = Change one by saying it: "larderling, post at 7:30", "larderling, names off", "larderling, plain style". "larderling, set up" asks the first three again.
value-none = none
value-yes = yes
value-no = no
value-ack-line = one line in words
value-ack-reaction = a thumbs-up where that says enough
name-quiet = hours without sound
name-names = names told to the group
name-style = your style
name-host = who let me in
wants-quiet = two times such as 22:00-06:00, or none
wants-names = yes or no
wants-style = usual, plain or child
wants-host = a person's number
style-usual = the usual way
style-plain = plain style
style-child = child style
style-chosen-usual = Back to the usual way.
style-chosen-plain = Plain style for you from now on: words instead of signs, one thing to a line, units in full, buttons also as words, and the posts copied to your private chat with me. For the copies, open that chat once.
style-chosen-child = From now on you get short answers, and I ask you to show them to a grown-up.
language-chosen = I speak English with you from now on.
language-unknown = I do not speak that language yet; I left it as it was.
you-can-say = You can say: { $words }.
quoted = "{ $words }"
not-yours-to-decide = That is for whoever let me in, or an administrator of the group, to decide.

privacy = What I keep: what you tell me about food and those messages' words, who told it, and your names as shown in this chat. Messages that are not for me I read once to see that they are not; their words are never stored or logged. What I said is kept 3 days. Nothing goes to anybody else, and nothing crosses to another kitchen.
    When I am removed from the group I stop at once and delete everything after 30 days; whoever runs me may hold backups for longer.
    Yours to say: "larderling, export" (a copy of everything), "larderling, delete everything", "larderling, forget me" (your name and words go, the stock stays).
ask-export = Send you everything on record, as a file, in private?
export-sent = It comes to your private chat with me.
export-here = Everything on record for your kitchen, one entry a line.
export-not-sent = I could not write to you in private. Open a chat with me there, press start, and ask again.
ask-delete = Delete the whole kitchen: stock, history, prices, names, settings? It cannot be undone. "larderling, export" gives you a copy first.
deleted = Deleting.
deleted-and-gone = Everything about this kitchen is deleted, and I take my leave. Add me again to begin anew.
ask-forget-you = Forget you: your name, your words and your private chat with me? What you reported about food stays, without a name. It cannot be undone.
ask-forget = Forget { $name }: the name, the words and the private chat with me? What { $name } reported about food stays, without a name. It cannot be undone.
nobody-called = I know nobody here called { $name }, or more than one.
forgotten = Forgotten: name and words are gone, the stock stays.
kitchen-in-private = Ask me that in our private chat.
which-kitchen = You are in more than one kitchen. Which one is this chat about? I take what you just wrote for that one.
no-longer-here = You have left that kitchen's group, so this chat is not about it any more. Write again to begin one of your own.
only-kitchen = You are in one kitchen only, and this chat is about it.
kitchen-without-name = Kitchen { $number }
kitchen-chosen = This chat is about { $name } now. To change: "other kitchen".
by-invitation = New kitchens are by invitation here. Whoever runs me has a code: send /start and the code.
by-list = I only work for kitchens on my list, and this is not one of them.
posts-here = The posts come to this topic from now on.

child-do-not = Don't eat it now.
child-grown-up = Show this to a grown-up first.
child-grown-up-now = Get a grown-up right now.

log-who = { $day }: { $deeds }, by { $who }
log-what = { $day }: { $deeds }
log-nothing = I have nothing on record about that.
names-in-private = Who it was I tell in our private chat only.

help-own-examples = For example: "used half the { $first }" · "any { $second } left?" · "tossed the { $third }, slimy"
help-own-next = Next: "what's first?" shows what to eat before it spoils. Also: "settings", "privacy", "invite".

command-first = What to eat first
command-have = What is in the house
command-need = The shopping list
command-plan = A plan until the next shop
command-undo = Take back the newest entry
command-help = What to text me
command-privacy = What I keep, and how to be rid of it
command-settings = How this kitchen is set
command-kitchen = Which kitchen this chat is about
command-invite = An invite for one person
command-export = A copy of everything on record
command-start = Begin

## The console

console-opening =
    I keep track of the kitchen. Text me as you would a housemate, for example:
      we have 3 leeks, half a squash and 2 lb carrots · got milk and a bunch of mint 6.40
      used half the squash · cut up the celery, it's in water · tossed the dill, slimy
      what's first? · how long does cut melon keep? · can you eat beet greens? · undo · help
    Buttons look like [Undo]; type "press: undo" to press one. Ctrl-D ends the chat.
    Your kitchen is kept in { $database }
console-demo = This is an invented household after four weeks. Try "what's first?", "what do we have?" or "how are we doing this month?".
console-too-long = That line has { $bytes } bytes; I read at most { $limit } at a time. Nothing of it was recorded. Please send it in parts.
console-no-button = None of my messages has a button "{ $wanted }".
console-trouble = I cannot get at my records just now: { $why }.
console-picture = Picture: { $path }
console-no-picture = The picture could not be written: { $why }.
console-not-saved = That was not saved: { $why }.
