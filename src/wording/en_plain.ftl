### What larderling says in plain style, in English: what reads otherwise than in en.ftl.
### Words for signs and short forms, and one thing to a line.

## Amounts and lists

list-separator = ,{"\u000A"}
list-and = { $first }{"\u000A"}and { $last }
list-or = { $first }{"\u000A"}or { $last }
amount-range = { $low } to { $high }
unit-gram = { $count ->
    [one] gram
   *[other] grams
}
unit-kilogram = { $count ->
    [one] kilogram
   *[other] kilograms
}
unit-milligram = { $count ->
    [one] milligram
   *[other] milligrams
}
unit-ounce = { $count ->
    [one] ounce
   *[other] ounces
}
unit-pound = { $count ->
    [one] pound
   *[other] pounds
}
unit-stone = stone
unit-milliliter = { $count ->
    [one] millilitre
   *[other] millilitres
}
unit-centiliter = { $count ->
    [one] centilitre
   *[other] centilitres
}
unit-deciliter = { $count ->
    [one] decilitre
   *[other] decilitres
}
unit-liter = { $count ->
    [one] litre
   *[other] litres
}
unit-teaspoon = { $count ->
    [one] teaspoon
   *[other] teaspoons
}
unit-tablespoon = { $count ->
    [one] tablespoon
   *[other] tablespoons
}
unit-fluid-ounce = { $count ->
    [one] fluid ounce
   *[other] fluid ounces
}

## Answers, posts and figures

answer-weight = One { $unit } of { $what } weighs about { $grams } grams, which is { $ounces } ounces.
answer-weight-piece = One { $what } weighs about { $grams } grams, which is { $ounces } ounces.
answer-weight-sized = One { $size } { $what } weighs about { $grams } grams, which is { $ounces } ounces.
answer-weight-edible = About { $percent } per cent of it is eaten.
answer-convert = { $from } { $unit } is { $grams } grams.
answer-convert-volume = { $from } { $unit } is { $millilitres } millilitres.
why-may-freeze = it may freeze { $place } at { $celsius } degrees Celsius
ledger-share = Food wasted: { $percent } per cent of what was used.
ledger-share-target = Food wasted: { $percent } per cent of what was used; your target is { $target } per cent.
explain-own-rows = Between its own published figures that makes { $range } { $place } at { $celsius } degrees Celsius.
explain-general-rule = By the temperature rule for fresh produce (USDA Handbook 66) that makes { $range } { $place } at { $celsius } degrees Celsius.
explain-guess = I take { $place } as { $celsius } degrees Celsius; tell me if it is not.
explain-stay = { $span } { $place } took { $percent } per cent of its life.
explain-neighbour = { $maker } in the same closed air take { $percent } per cent off.
explain-chilling = Below { $celsius } degrees Celsius cold harms it; I expect that by { $day }.
explain-learned-shorter = Your own record shortens it by { $percent } per cent.
explain-learned-longer = Your own record lengthens it by { $percent } per cent.

## Help

help-examples = For example:{"\u000A"}"got 3 leeks and milk 4.20"{"\u000A"}"used half the squash"{"\u000A"}"cut up the celery, it's in water"{"\u000A"}"what's first?"{"\u000A"}"can you eat beet greens?"{"\u000A"}"undo"
help-own-examples = For example:{"\u000A"}"used half the { $first }"{"\u000A"}"any { $second } left?"{"\u000A"}"tossed the { $third }, slimy"
