### What larderling says, in English. One message, one sentence or label; grouped by room.

## Amounts, days and lists

## Kitchen: acknowledging what was told

## Answers: storage and safety

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
console-not-saved = That was not saved: { $why }.
