"""Numbers as people write and say them: 212 · two twelve · one oh five · seven and a half · thirty six six.

Every reading that the words at a place allow is given with its length; what is meant is for the litter to decide.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from parsers.words import Word, Words, texts_of

_DIGITS = {w: i for i, w in enumerate("zero one two three four five six seven eight nine".split())}
_TEENS = {w: i for i, w in enumerate("ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split(), 10)}
_TENS = {w: i * 10 for i, w in enumerate("twenty thirty forty fifty sixty seventy eighty ninety".split(), 2)}
_TENS["fourty"] = 40
_OH = frozenset(("oh", "o", "zero", "nought"))
_ALIKE = {
    "to": 2,
    "too": 2,
    "for": 4,
    "fore": 4,
    "won": 1,
    "ate": 8,
    "tree": 3,
    "free": 3,
    "fife": 5,
    "sex": 6,
    "sick": 6,
    "tin": 10,
    "tenn": 10,
}
"""What a phone's dictation writes for a digit that was said (the contract's Dictation rule; the rarer ones from memory)."""
_PARTS = {"half": 0.5, "quarter": 0.25, "third": 1 / 3, "eighth": 0.125}
_PLURAL_PARTS = {"quarters": 0.25, "thirds": 1 / 3, "eighths": 0.125}

SPOKEN = frozenset(_DIGITS) | frozenset(_TEENS) | frozenset(_TENS) | {"hundred", "oh"}
"""Words that are numbers wherever they stand."""
WORDS = SPOKEN | frozenset(_PARTS) | {"a", "and", "point", "thousand", "o", "nought", "couple"} | frozenset(_PLURAL_PARTS)
ALIKE = frozenset(_ALIKE)

_LONGEST = 8  # words in one spoken number; nothing of this trade needs more


class Number(NamedTuple):
    """One reading of a number: its value, how many words it takes, and how it was said."""

    value: float
    length: int
    alike: bool = False
    """True where a sound-alike (to, for, won, ate, tree) was taken for a digit."""
    tenths: bool = False
    """True where the last word is read as tenths (`thirty seven two`): only beside a temperature."""
    joined: bool = False
    """True where digits that were set apart (`2 12`) are read as one number."""
    digits: bool = False
    """True where it is one run of digits as typed."""

    @property
    def whole(self) -> bool:
        return float(self.value).is_integer()


_Atom = tuple[str, float, bool]


_ATOMS: dict[str, _Atom] = {
    **{text: ("D", value, True) for text, value in _ALIKE.items()},
    **{text: ("F", value, False) for text, value in (_PARTS | _PLURAL_PARTS).items()},
    **dict.fromkeys(_OH, ("O", 0, False)),
    **{text: ("X", value, False) for text, value in _TENS.items()},
    **{text: ("T", value, False) for text, value in _TEENS.items()},
    **{text: ("D", value, False) for text, value in _DIGITS.items() if value},
    "hundred": ("H", 100, False),
    "and": ("&", 0, False),
    "&": ("&", 0, False),
    "point": (".", 0, False),
    "a": ("A", 1, False),
}
"""The part of a number that a word can be: (class, value, sound-alike)."""


def _atom(word: Word) -> _Atom | None:
    """The part of a number that a word can be; None where it can be none."""
    if word.kind == "number":
        return ("N", word.value or 0.0, False)
    if word.kind == "fraction":
        return ("V", word.value or 0.0, False)
    return _ATOMS.get(word.text)


def starts_number(word: Word) -> bool:
    """True where a number can begin with this word for certain (digits or a number word, no sound-alike)."""
    return word.kind in ("number", "fraction") or word.text in SPOKEN


def readings(words: Sequence[Word], at: int, *, alike: bool = False) -> list[Number]:
    """Every number that the words from `at` can be, the longest first; sound-alikes only where `alike` asks for them."""
    if not isinstance(words, Words):
        return _readings(words, at, alike)
    asked = ("numbers", at, alike)
    found: list[Number] | None = words.worked_out.get(asked)
    if found is None:
        if alike and ALIKE.isdisjoint(texts_of(words)):
            found = readings(words, at)
        else:
            found = _readings(words, at, alike)
        words.worked_out[asked] = found
    return found


def _readings(words: Sequence[Word], at: int, alike: bool) -> list[Number]:
    first = words[at]
    if first.kind == "number" and (at + 1 == len(words) or not _goes_on(words[at + 1])):
        return [Number(first.value or 0.0, 1, digits=True)]
    atoms: list[_Atom] = []
    for word in words[at : at + _LONGEST]:
        atom = _atom(word)
        if atom is None or (atom[2] and not alike):
            break
        if atom[0] == "N" and len(atoms) > 1 and atoms[-1][0] == "N" and (atom[1] > 9 or len(atoms) > 2):
            break
        atoms.append(atom)
    found: list[Number] = []
    for length in range(len(atoms), 0, -1):
        kind, value, _ = atoms[length - 1]
        if length == 1 and kind in "NDTX":
            found.append(Number(value, 1, atoms[0][2], digits=kind == "N"))
        elif kind not in "&.A":
            found.extend(_values(atoms[:length], words[at : at + length], length))
    comma = _decimal_comma(words, at)
    return [comma, *found] if comma else found


def _goes_on(word: Word) -> bool:
    """True where the word after a run of digits may be part of the same number; nothing is said so that 212 or 7.5 come second."""
    if word.kind == "number":
        return word.value is not None and word.value < 100 and word.value.is_integer()
    return word.kind == "fraction" or word.text in _ATOMS or word.text in WORDS or (word.text in ",/-" and not word.spaced)


def _decimal_comma(words: Sequence[Word], at: int) -> Number | None:
    """`7,4`: a comma between digits with no space is a point, unless it is a list (`1,2 and 5` is left to the subjects)."""
    if at + 2 >= len(words) or words[at + 1].text != "," or words[at + 1].spaced or words[at + 2].spaced:
        return None
    left, right = words[at], words[at + 2]
    if not (left.whole and right.whole) or len(right.text) > (3 if left.text == "0" else 2):
        return None
    if (at and words[at - 1].text == "," and not words[at].spaced) or (
        at + 4 < len(words) and words[at + 3].text == "," and not (words[at + 3].spaced or words[at + 4].spaced)
    ):
        return None
    return Number(float(f"{left.text}.{right.text}"), 3)


def _values(atoms: list[_Atom], words: Sequence[Word], length: int) -> list[Number]:
    alike = any(atom[2] for atom in atoms)
    shape = "".join(atom[0] for atom in atoms)
    found = []
    whole = _cardinal(shape, atoms)
    if whole is not None:
        found.append(Number(whole, length, alike, digits=shape == "N"))
    else:
        parts = _fraction(shape, atoms, words)
        if parts is not None:
            found.append(Number(parts, length, alike))
        spoken = _spoken(atoms)
        if spoken is not None:
            found.append(Number(spoken, length, alike, joined=shape.startswith("N")))
    if shape in _TENTHS:
        whole = _cardinal(shape[:-1], atoms[:-1])
        if whole is None:
            whole = _spoken(atoms[:-1])
        if whole is not None and float(whole).is_integer() and atoms[-1][1] < 10 and float(atoms[-1][1]).is_integer():
            found.append(Number(whole + atoms[-1][1] / 10, length, alike, tenths=True))
    return found


_TENTHS = frozenset(("XDD", "NN", "ND", "DHDD", "AHDD", "DH&DD", "AH&DD", "XDO", "AHDO", "DHDO", "DODD", "DODO", "DHD", "AHD"))
_CARDINALS = frozenset(("N", "D", "T", "X", "XD", "O"))


def _small(shape: str, atoms: Sequence[_Atom]) -> float | None:
    """A number under a hundred, or one run of digits."""
    return sum(atom[1] for atom in atoms) if shape in _CARDINALS else None


def _cardinal(shape: str, atoms: Sequence[_Atom]) -> float | None:
    """`two hundred and twelve`, `212`, `2 hundred`; None where it is not one."""
    if "H" not in shape:
        return None if shape == "O" else _small(shape, atoms)
    split = shape.index("H")
    head, tail = shape[:split], shape[split + 1 :]
    hundreds = 1 if head in ("", "A") else (_small(head, atoms[:split]) if head in ("D", "N", "T") else None)
    if hundreds is None or (head == "N" and hundreds > 19):
        return None
    rest = list(atoms[split + 1 :])
    if tail.startswith("&"):
        tail, rest = tail[1:], rest[1:]
    if not tail:
        return hundreds * 100 if shape[-1] == "H" else None
    small = _small(tail, rest)
    return None if small is None or not 0 < small < 100 else hundreds * 100 + small


def _fraction(shape: str, atoms: Sequence[_Atom], words: Sequence[Word]) -> float | None:
    """`seven and a half`, `7 1/2`, `three quarters`, `seven point four`, `a half`."""
    if "." in shape:
        split = shape.index(".")
        left = _cardinal(shape[:split], atoms[:split]) if split else 0.0
        if left is None:
            left = _spoken(atoms[:split])
        tail = atoms[split + 1 :]
        if left is None or not tail or any(atom[0] not in "DON" for atom in tail):
            if left is not None and len(tail) in (1, 2) and _small(shape[split + 1 :], tail) is not None:
                return left + (_small(shape[split + 1 :], tail) or 0) / 100
            return None
        return float(f"{int(left)}." + "".join(str(int(atom[1])) for atom in tail))
    if shape == "V":
        return atoms[0][1]
    if shape.endswith("V"):
        left = _cardinal(shape[:-1].removesuffix("&"), atoms[:-1] if shape[-2] != "&" else atoms[:-2])
        return None if left is None else left + atoms[-1][1]
    if not shape.endswith("F"):
        return None
    part = atoms[-1][1]
    head = shape[:-1]
    if head in ("", "A"):
        return part
    if head in ("D", "N") and words[-1].text in _PLURAL_PARTS:
        return atoms[0][1] * part
    for joint in ("&A", "&", "&D", "&N"):
        if head.endswith(joint) and len(head) > len(joint):
            left = _cardinal(head[: -len(joint)], atoms[: -len(joint) - 1])
            many = atoms[-2][1] if joint in ("&D", "&N") else 1
            if joint in ("&D", "&N") and words[-1].text not in (*_PLURAL_PARTS, "quarter") and many != 1:
                return None
            return None if left is None else left + many * part
    return None


def _size(kind: str, value: float) -> str:
    """Typed digits as what they are said as: D a digit, O nought, T ten to ninety-nine; all else stays as it is."""
    if kind != "N" or not float(value).is_integer() or value >= 100:
        return kind
    return "O" if value == 0 else "D" if value < 10 else "T"


def _spoken(atoms: Sequence[_Atom]) -> float | None:
    """By pairs or digits: `two twelve`, `one oh five`, `two one two`, `ten fifty`; digits set apart (`2 12`) too."""
    kinds = "".join(_size(kind, value) for kind, value, _ in atoms)
    values = [atom[1] for atom in atoms]
    if kinds in _PAIRS:
        head = _PAIRS[kinds]
        return sum(values[:head]) * 100 + sum(values[head:])
    if 3 <= len(kinds) <= 4 and kinds[0] == "D" and set(kinds) <= {"D", "O"}:
        return float("".join(str(int(value)) for value in values))
    return None


_PAIRS = {"DT": 1, "DX": 1, "DXD": 1, "DOD": 1, "TT": 1, "TX": 1, "TXD": 1, "TOD": 1}
"""Shapes said in two parts, and how many words the hundreds take. D digit, O oh, T ten to nineteen (or two digits), X tens."""
