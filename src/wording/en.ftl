### What larderling says, in English. One message, one sentence or label; grouped by room.

## Amounts, days and lists

## Kitchen: acknowledging what was told

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
answer-sum-life = { $what }: { $min }-{ $max } days { $site }; { $elapsed }
answer-sum-alternative = Another published figure: { $range } { $site } ({ $source }).

answer-yours-until = Yours ({ $what }, { $site }): until { $day }.
answer-yours-past = Throw out yours ({ $what }, { $site }): { $day } was the last day. { $why }
answer-yours-use = Use yours ({ $what }, { $site }) by { $day }. { $why }

answer-keeps = Keep { $what } { $site }: { $range }.
answer-keeps-also = { $site }: { $range }.
answer-keeps-limit = Keep { $what } { $site } for { $limit } at most: { $why }
answer-keeps-frozen = Frozen: best within { $range }.
answer-place-best = Put { $what } { $site }. { $why }
answer-place-next = Next best: { $site }.
answer-place-wrap = { $text }
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
answer-outage-freezer-out = Throw out what has thawed and is warm: a full freezer, shut, holds { $full }. { $elapsed } Keep only what still has ice crystals.
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
answer-wash = { $text }
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
answer-shelf = Don't keep { $what } unrefrigerated: { $text }
answer-label-past-use-by = Throw it out: { $day } was the use-by date, and that one is about safety.
answer-label-before-use-by = Use { $what } by { $day }: the use-by date is about safety.
answer-label-past-best = Use { $what } if it looks, smells and feels as it should: "best before" is about quality. { answer-slime-check }

answer-eaten = { $lines } Don't wait for symptoms and don't make anybody vomit unless they tell you to. Keep a piece of it, or a photo, to describe what was eaten, how much and when.
answer-eaten-poison = Call { $name } now: { $number }.
answer-eaten-poison-plain = Call { $number } now ({ $name }).
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
answer-why-words = I looked at these words of yours: { $words }.

## Posts, plans and lists

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
