#!/usr/bin/env python3
"""Measures `larderling read` on the rows of benches/language, and times it beside the reference
library (PyPI ingredient-parser-nlp 2.9.1) in the same run.

    cargo build --release
    benches/language.py                 # figures and the bot's own speed
    benches/language.py --reference     # and the reference, in a virtual environment it sets up

The bot gets one message a line and answers one JSON object a line. An ingredient phrase is sent
as "got ...". A phrase is right when quantity, unit and the name's last word are; a composed
message when every item is and there are no others."""
import argparse, fractions, json, os, re, subprocess, sys, time, unicodedata

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(HERE)
SETS = os.path.join(HERE, "language")
REFERENCE = "ingredient-parser-nlp==2.9.1"
WORDS = {"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
         "eight": 8, "nine": 9, "ten": 10, "twelve": 12, "dozen": 12, "half": 0.5, "couple": 2}
UNITS = {word: words.split()[0] for words in (
    "tablespoon tablespoons tbsp tbsps tbs tbl", "teaspoon teaspoons tsp tsps", "cup cups c", "ounce ounces oz ozs",
    "pound pounds lb lbs", "gram grams g gr gm gms", "kilogram kilograms kg kgs kilo kilos",
    "milliliter milliliters millilitre millilitres ml mls", "liter liters litre litres l ltr", "pint pints pt",
    "quart quarts qt qts", "gallon gallons gal", "inch inches", "package packages pkg pkgs packet packets pack packs",
    "can cans tin tins", "bunch bunches", "clove cloves", "head heads", "stalk stalks", "rib ribs", "slice slices",
    "sprig sprigs", "pinch pinches", "dash dashes", "jar jars", "bottle bottles", "bag bags", "box boxes",
    "stick sticks", "piece pieces", "handful handfuls", "loaf loaves", "leaf leaves", "ear ears", "envelope envelopes",
    "container containers", "carton cartons", "sheet sheets", "drop drops", "scoop scoops", "jigger jiggers",
    "shot shots", "part parts", "tube tubes", "bulb bulbs") for word in words.split()}
SIZES = {"large", "small", "medium", "heaping", "generous", "size", "sized", "extra"}


def amount(text):
    """A written amount as (low, high), or None: '1 1/2', '2 -3', 'two'."""
    text = unicodedata.normalize("NFKC", str(text or "")).lower().replace("\u2044", "/")
    text = re.sub(r"[\u2013\u2014]", "-", text)
    text = re.sub(r"(\d)?#(\d+)\$(\d+)", r"\1 \2/\3", text)
    parts = re.split(r"\s*(?:-|\bto\b|\bor\b)\s*", re.sub(r"\s*/\s*", "/", text.strip()))
    if len(parts) == 2 and re.fullmatch(r"\d+", parts[0]) and re.fullmatch(r"\d+/\d+", parts[1]):
        parts = [" ".join(parts)]
    values = []
    for part in parts:
        total, found = 0.0, False
        for word in part.replace(",", "").split():
            try:
                value = float(fractions.Fraction(word))
            except (ValueError, ZeroDivisionError):
                value = WORDS.get(word)
            if value is not None:
                total = total * value if word == "dozen" and found else total + value
                found = True
        if found:
            values.append(total)
    return (values[0], values[-1]) if values else None


def unit(text):
    words = re.sub(r"[.]", "", str(text or "").lower().replace("-", " ")).split()
    return " ".join(UNITS.get(word, word) for word in words if word not in SIZES)


def words(text):
    """A name's words, lower case, without accents, each in the singular."""
    plain = unicodedata.normalize("NFKD", str(text or "")).encode("ascii", "ignore").decode().lower()
    return [singular(word) for word in re.sub(r"[^a-z0-9%' ]", " ", plain.replace("-", " ")).split()]


def singular(word):
    if word in ("leaves", "loaves", "halves"):
        return {"leaves": "leaf", "loaves": "loaf", "halves": "half"}[word]
    for ending, kept in (("ies", "y"), ("oes", "o"), ("ches", "ch"), ("shes", "sh"), ("xes", "x"), ("sses", "ss")):
        if len(word) > len(ending) + 1 and word.endswith(ending):
            return word[:-len(ending)] + kept
    plural = len(word) > 2 and word.endswith("s") and not word.endswith(("ss", "us", "is"))
    return word[:-1] if plural else word


def near(one, other):
    if one is None or other is None:
        return one is other
    return all(abs(a - b) <= 0.011 * max(1, abs(a)) for a, b in zip(one, other))


def dozens(quantity, name):
    counted = name == "dozen" and quantity
    return (tuple(12 * x for x in quantity), "") if counted else (quantity, name)


def same(gold, quantity, name_of_unit, name):
    """Whether an item is the labelled one: quantity, unit, and the last word of the name."""
    wanted = dozens(amount(gold["quantity"]), unit(gold["unit"]))
    got = dozens(quantity, unit(name_of_unit))
    head = words(gold["name"])[-1:]
    return near(wanted[0], got[0]) and wanted[1] == got[1] and bool(head) and head[0] in words(name)


def of_item(item):
    low, high = item.get("quantity"), item.get("quantity_high")
    return None if low is None else (low, low if high is None else high)


def rows(name):
    with open(os.path.join(SETS, name), encoding="utf8") as file:
        lines = file.read().splitlines()
    if name.endswith(".jsonl"):
        return [json.loads(line) for line in lines]
    if name.endswith(".tsv"):
        keys = lines[0].split("\t")
        return [dict(zip(keys, line.split("\t"))) for line in lines[1:]]
    return lines


def ask(bot, texts):
    run = subprocess.run([bot, "read"], input="".join(text + "\n" for text in texts).encode(), stdout=subprocess.PIPE)
    answers = [json.loads(line) for line in run.stdout.decode().splitlines()]
    if run.returncode or len(answers) != len(texts):
        sys.exit(f"{bot}: status {run.returncode}, {len(answers)} answers to {len(texts)} messages")
    return answers


def items(answer):
    return [item for statement in answer["statements"] for item in statement["items"]]


def figures(bot):
    phrases = rows("phrases.tsv")
    answers = ask(bot, ["got " + row["text"] for row in phrases])
    first = [next(iter(items(answer)), {}) for answer in answers]
    right = [same(row, of_item(item), item.get("unit"), item.get("name")) for row, item in zip(phrases, first)]
    yield "ingredient phrases: quantity, unit, head noun right", sum(right), len(right)

    composed = rows("composed.jsonl")
    whole = 0
    for row, answer in zip(composed, ask(bot, [row["text"] for row in composed])):
        left = items(answer)
        for gold in row["items"]:
            found = next((i for i in left if same(gold, of_item(i), i.get("unit"), i.get("name"))), None)
            left = [i for i in left if i is not found] if found else left + [None]
        whole += not left
    yield "composed messages: all items right, no others", whole, len(composed)

    shelf = rows("shelf.tsv")
    answers = ask(bot, [row["text"] for row in shelf])
    fitting = [any(s["intent"].startswith("ask_") for s in answer["statements"]) for answer in answers]
    yield "shelf-life questions: taken as one", sum(fitting), len(shelf)
    named = [words(next((i["name"] for i in items(a)), "")) == words(row["food"]) for row, a in zip(shelf, answers)]
    yield "shelf-life questions: food exact", sum(named), len(shelf)

    for name, file in (("chatter", "chatter.txt"), ("near-kitchen talk", "near_kitchen.txt")):
        lines = rows(file)
        spoke = sum(answer["stance"] != "silent" for answer in ask(bot, lines))
        yield f"{name}: false triggers", spoke, len(lines)


REFERENCE_RUN = """
import json, resource, statistics, sys, time
begun = time.perf_counter()
from ingredient_parser import parse_ingredient
parse_ingredient("3 leeks")
print(json.dumps({"start": time.perf_counter() - begun}))
times = []
for line in sys.stdin:
    one = time.perf_counter()
    read = parse_ingredient(line.rstrip("\\n"))
    times.append(time.perf_counter() - one)
    amounts = [a for a in read.amount if hasattr(a, "quantity")]
    first = amounts[0] if amounts else None
    print(json.dumps({"quantity": [str(first.quantity), str(first.quantity_max)] if first else None,
                      "unit": str(first.unit) if first else "", "name": " ".join(n.text for n in read.name or [])}))
print(json.dumps({"median": statistics.median(times), "memory": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss}))
"""


def reference():
    """The reference on the same phrases: what it gets right, and how fast."""
    folder = os.path.join(ROOT, "target", "reference")
    python = os.path.join(folder, "bin", "python")
    if not os.path.exists(python):
        subprocess.run([sys.executable, "-m", "venv", folder], check=True)
        subprocess.run([python, "-m", "pip", "install", "-q", REFERENCE], check=True)
    phrases = rows("phrases.tsv")
    text = "".join(row["text"] + "\n" for row in phrases)
    run = subprocess.run([python, "-c", REFERENCE_RUN], input=text.encode(), stdout=subprocess.PIPE)
    if run.returncode:
        sys.exit("the reference does not run; at its first use it fetches the tagger data of NLTK")
    lines = [json.loads(line) for line in run.stdout.decode().splitlines() if line.startswith("{")]
    start, read, end = lines[0]["start"], lines[1:-1], lines[-1]
    right = 0
    for row, got in zip(phrases, read):
        low, high = (amount(text) for text in got["quantity"]) if got["quantity"] else (None, None)
        right += same(row, (low[0], high[-1]) if low and high else None, got["unit"], got["name"])
    print(f"reference {REFERENCE}: {right} of {len(read)} phrases right ({100 * right / len(read):.2f} %), "
          f"median {1e6 * end['median']:.0f} us, start {1e3 * start:.0f} ms, {end['memory'] // 1024} MiB")


def speed():
    """The reader's own speed, start and memory, by benches/reader.rs."""
    folder = os.path.join(ROOT, "target", "language")
    os.makedirs(folder, exist_ok=True)
    files = []
    for name, file in (("phrases", "phrases.tsv"), ("composed", "composed.jsonl"), ("shelf", "shelf.tsv"), ("chatter", "chatter.txt")):
        texts = [row if isinstance(row, str) else row["text"] for row in rows(file)]
        files.append(os.path.join(folder, name))
        with open(files[-1], "w", encoding="utf8") as out:
            out.writelines(("got " if name == "phrases" else "") + text + "\n" for text in texts)
    subprocess.run(["cargo", "bench", "--quiet", "--bench", "reader", "--", *files], cwd=ROOT, check=True)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--bot", default=os.path.join(ROOT, "target", "release", "larderling"))
    parser.add_argument("--reference", action="store_true")
    options = parser.parse_args()
    for name, part, whole in figures(options.bot):
        print(f"{name:52s} {part:6d} of {whole:<6d} {100 * part / whole:7.3f} %")
    begun = time.perf_counter()
    ask(options.bot, ["got 3 leeks"])
    print(f"`read` of one line, process start included: {1e3 * (time.perf_counter() - begun):.0f} ms")
    speed()
    if options.reference:
        reference()


if __name__ == "__main__":
    main()
