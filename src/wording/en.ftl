### What larderling says, in English. One message, one sentence or label; grouped by room.

## Amounts, days and lists

## Kitchen: acknowledging what was told

## Answers: storage and safety

## Posts, plans and lists

## Set-up, help and manners

help-short = Text me as you would a housemate: "got 3 leeks and milk", "used half the squash", "what's first?"
