"""What a message tells about the litter and the household: names, intervals, units, the watch, telephone numbers (the contract's Setup).

Nothing of a plan, of talk or of a question is taken: something told stands as a sentence, or as a part of one that is set off.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cache
from typing import Any, Literal

from parsers import shifts
from parsers.edges import Opening, closing, openings
from parsers.litter_card import LitterCard
from parsers.new_names import Mark
from parsers.places import Places, hints
from parsers.subjects import Names
from parsers.templates import Found, Templates
from parsers.vocabulary import load
from parsers.words import Word

_SETUP = load("setup")
_BETWEEN = frozenset((",", ";", "and", "&", "then", "/", "\n", "|", "-", "."))
Sets = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Told:
    """Something told: what it sets, the words that it takes, and of these the spans that it has no room for."""

    sets: Sets
    start: int
    end: int
    left: tuple[tuple[int, int], ...] = ()
    """Spans inside it that no field holds (`2 clicks` of a plan): they are to be kept as they were said."""


@dataclass(frozen=True, slots=True)
class _Section:
    name: str
    needs: frozenset[str]
    also: frozenset[str]
    templates: Templates

    def may_be(self, hints: set[str]) -> bool:
        """False where the message has not the words for it, so that its templates need not be tried."""
        return not self.needs.isdisjoint(hints) and (not self.also or not self.also.isdisjoint(hints))


@dataclass(frozen=True, slots=True)
class _Try:
    """One attempt to read something told from an opening on."""

    words: Sequence[Word]
    opening: Opening
    start: int
    end: int
    places: Places

    def next(self, templates: Templates, at: int) -> list[Found]:
        return templates.match(self.words, at, self.end, self.places.fillers) if at < self.end else []

    def closed(self, at: int) -> int | None:
        """The end of what is told, if `at` is one and no question mark makes a question of it."""
        found = closing(self.words, at, self.end)
        return None if found is None or (found.question and not self.opening.asked) else found.end

    def over_joints(self, at: int) -> int:
        """Past a comma, `and` or the like."""
        while at < self.end and self.words[at].text in _BETWEEN:
            at += 1
        return at


_Result = tuple[Sets, int, tuple[tuple[int, int], ...]]
_TAGS: dict[str, tuple[str, ...]] = {
    "name": ("firm", "says", "has", "bare"),
    "list_of_names": ("head",),
    "every": ("says", "drug"),
    "snooze": ("says",),
    "on_duty": ("me", "other"),
    "roster": ("head", "item"),
    "units": ("says", "alone"),
    "formula": ("says",),
    "adult_grams": ("says",),
    "breed": ("says",),
    "reminders": ("off", "on"),
    "invite": ("firm", "says"),
    "phone": ("vet", "emergency"),
    "litter": ("head",),
}
"""The sections of setup.toml that something told may begin with, and the kinds of template in each."""


def _templates(section: str, tags: Iterable[str]) -> Templates:
    data = _SETUP[section]
    lists = {
        key: value
        for key, value in data.items()
        if isinstance(value, list) and key not in tags and all(isinstance(each, str) for each in value)
    }
    templates = Templates(_SETUP["shared"] | lists)
    for tag in tags:
        templates.add(tag, data[tag])
    return templates


@cache
def _sections() -> tuple[_Section, ...]:
    return tuple(
        _Section(name, frozenset(_SETUP[name]["needs"]), frozenset(_SETUP[name].get("also", ())), _templates(name, tags))
        for name, tags in _TAGS.items()
    )


@cache
def _extra(section: str, tag: str) -> Templates:
    """Templates that only go on from something told."""
    return _templates(section, (tag,))


@cache
def known_words() -> frozenset[str]:
    """Every word of the setup's vocabulary, for the speller."""
    extras = [_extra("name", "more"), _extra("on_duty", "end"), _extra("litter", "tail")]
    return frozenset(
        word for templates in [*(section.templates for section in _sections()), *extras] for word in templates.known if word.isalpha()
    )


def find(words: Sequence[Word], start: int, end: int, names: Names, card: LitterCard, now: datetime, *, by: str | None = None,
         last_who: int | Literal["dam"] | None = None) -> list[Told]:  # fmt: skip
    """Everything told in words[start:end], in order. `last_who` is whom `him` means in `call him Olive`."""
    found_hints = hints(words, start, end, names, card)
    sections = [section for section in _sections() if section.may_be(found_hints)]
    if not sections:
        return []
    places = Places(end, names, card, now, by=by, last_who=last_who)
    found: list[Told] = []
    done, near_from, near = start, -1, sections
    for opening in openings(words, start, end):
        if opening.start < done:
            continue
        if opening.start != near_from and end - start > _WINDOW:
            near_from, near = opening.start, _near(words, opening.start, end, names, card, sections)
        told = _told(_Try(words, opening, start, end, places), near) if near else None
        if told is not None:
            found.append(told)
            done = told.end
    return found


def _near(words: Sequence[Word], at: int, end: int, names: Names, card: LitterCard, sections: Sequence[_Section]) -> list[_Section]:
    """The sections whose words stand near a place: a long message has a few words of every section somewhere."""
    found = hints(words, at, min(end, at + _WINDOW), names, card)
    return [section for section in sections if section.may_be(found)]


def merged(told: Iterable[Told]) -> Sets:
    """All that a message sets, as one object: several names, intervals or numbers become lists; of the rest the last word counts."""
    sets: Sets = {}
    for one in told:
        for key, value in one.sets.items():
            if key in _LISTS and key in sets:
                sets[key] = _as_list(sets[key]) + _as_list(value)
            elif key == "litter" and key in sets:
                sets[key] = sets[key] | value
            else:
                sets[key] = value
    return sets


_WINDOW = 20
"""Words in which something told shows what it is about."""
_LISTS = frozenset(("name", "every", "reminders", "phone", "roster"))


def _as_list(value: Any) -> list[Any]:
    return list(value) if isinstance(value, list) else [value]


def _told(attempt: _Try, sections: Sequence[_Section]) -> Told | None:
    best: _Result | None = None
    for section in sections:
        for found in attempt.next(section.templates, attempt.opening.at):
            result = _READERS[section.name](attempt, found)
            if result is not None and (best is None or result[1] > best[1]):
                best = result
    return None if best is None else Told(best[0], attempt.opening.start, best[1], best[2])


def _plain(attempt: _Try, found: Found, sets: Sets, left: tuple[tuple[int, int], ...] = ()) -> _Result | None:
    """What is told, if it has ended there."""
    end = attempt.closed(found.end)
    return None if end is None else (sets, end, left)


def _name(attempt: _Try, found: Found) -> _Result | None:
    first = _named(found)
    if first is None:
        return None
    items, end = [first], found.end
    go_on = True
    while go_on:
        go_on = False
        place = attempt.over_joints(end)
        for more in attempt.next(_extra("name", "more"), place):
            item = _named(more, listed=True)
            if item is not None and (attempt.closed(more.end) is not None or attempt.next(_extra("name", "more"), more.end)):
                items.append(item)
                end, go_on = more.end, True
                break
    if len(items) == 1 and (found.tag == "bare" or _is_alarming(found)):
        return None
    if found.tag == "bare" and attempt.opening.start != attempt.start:
        return None
    closed = attempt.closed(end)
    if closed is None and not (found.tag == "firm" and len(items) == 1):
        return None
    return {"name": items[0] if len(items) == 1 else items}, end if closed is None else closed, ()


def _is_alarming(found: Found) -> bool:
    mark = found.fills.get("mark")
    return isinstance(mark, Mark) and mark.alarming


def _named(found: Found, *, listed: bool = False) -> Sets | None:
    fills = found.fills
    mark = fills.get("mark")
    if isinstance(mark, Mark):
        if found.tag == "has" and mark.unsafe and not listed:
            return None
        return {"pup": fills["pup"], "as": mark.text}
    return {"pup": fills["pup"], "as": fills.get("name") or fills["proper"]}


def _list_of_names(attempt: _Try, found: Found) -> _Result | None:
    """`names: 1 Olive, 2 Pip, 3 Moss`."""
    items: list[Sets] = []
    end = found.end
    while True:
        place = attempt.over_joints(end)
        nexts = [(more, item) for more in attempt.next(_extra("name", "more"), place) if (item := _named(more, listed=True)) is not None]
        if not nexts:
            break
        items.append(nexts[0][1])
        end = nexts[0][0].end
    return _plain(attempt, Found("list", end, {}), {"name": items[0] if len(items) == 1 else items}) if items else None


_LONGEST_INTERVAL = 7 * 24 * 60
"""Minutes; what is due more seldom than weekly is no care of a newborn litter (own choice)."""


def _every(attempt: _Try, found: Found) -> _Result | None:
    fills = found.fills
    minutes = fills.get("every", fills.get("minutes"))
    if minutes is None or not 1 < minutes <= _LONGEST_INTERVAL:
        return None
    sets: Sets = {"care": "dose", "drug": fills["drug"]} if found.tag == "drug" else {"care": fills.get("care", "nursed")}
    left = (fills["amount"],) if "amount" in fills else ()
    return _plain(attempt, found, {"every": sets | {"minutes": _tidy(minutes)}}, left)


def _tidy(value: float) -> float | int:
    return int(value) if float(value).is_integer() else round(value, 2)


_LONGEST_SNOOZE = 12 * 60
"""Minutes: a snooze longer than a night's watch is more likely a slip (own choice)."""


def _snooze(attempt: _Try, found: Found) -> _Result | None:
    fills = found.fills
    minutes = fills.get("minutes")
    if "clock" in fills:
        minutes = round((fills["clock"] - attempt.places.now).total_seconds() / 60)
    if minutes is None or not 0 < minutes <= _LONGEST_SNOOZE:
        return None
    who = fills.get("who")
    return _plain(attempt, found, {"snooze": {"minutes": _tidy(minutes)} | ({} if who is None else {"who": who})})


def _on_duty(attempt: _Try, found: Found) -> _Result | None:
    fills, places = found.fills, attempt.places
    who = places.by if found.tag == "me" else fills.get("person's", fills.get("person"))
    if who is None:
        return None
    for more in attempt.next(_extra("on_duty", "end"), found.end):
        closed = attempt.closed(more.end)
        if closed is not None:
            until = more.fills.get("clock") or (places.now + timedelta(minutes=more.fills["minutes"])).astimezone(places.card.tz)
            return {"on_duty": who, "until": until.isoformat()}, closed, ()
    return _plain(attempt, found, {"on_duty": who})


def _roster(attempt: _Try, found: Found) -> _Result | None:
    places = attempt.places
    items: list[dict[str, str]] = []
    if found.tag == "item":
        first = shifts.shift(found.fills, [], places.now, places.card.tz)
        if first is None:
            return None
        items.append(first)
    end = found.end
    while True:
        place = attempt.over_joints(end)
        if place == end and items:
            break
        more = next((each for each in attempt.next(_extra("roster", "item"), place)), None)
        item = shifts.shift(more.fills, items, places.now, places.card.tz) if more is not None else None
        if more is None or item is None:
            break
        items.append(item)
        end = more.end
    return _plain(attempt, Found("roster", end, {}), {"roster": items}) if items else None


def _units(attempt: _Try, found: Found) -> _Result | None:
    if found.tag == "alone" and len(attempt.words[attempt.opening.at].text) == 1:
        return None
    return _plain(attempt, found, dict(found.fills["units"]))


_KCAL = (0.2, 3.0)
"""What a milk replacer can hold, kcal per ml as fed: bitch's milk has about 1.5 (own bounds, wide; outside them it is another figure)."""


def _formula(attempt: _Try, found: Found) -> _Result | None:
    kcal = found.fills["number"] / found.fills.get("volume", 1)
    if not _KCAL[0] <= kcal <= _KCAL[1]:
        return None
    return _plain(attempt, found, {"formula": {"kcal_per_ml": round(kcal, 4)}})


def _adult_grams(attempt: _Try, found: Found) -> _Result | None:
    return _plain(attempt, found, {"adult_grams": found.fills["grams"]})


def _breed(attempt: _Try, found: Found) -> _Result | None:
    return _plain(attempt, found, {"breed": found.fills.get("breed") or found.fills["words"]})


def _reminders(attempt: _Try, found: Found) -> _Result | None:
    return _plain(attempt, found, {"reminders": {**found.fills.get("what", {"care": "all"}), "on": found.tag == "on"}})


def _invite(attempt: _Try, found: Found) -> _Result | None:
    if found.tag == "firm":
        closed = attempt.closed(found.end)
        return {"invite": found.fills["newcomer"]}, found.end if closed is None else closed, ()
    return _plain(attempt, found, {"invite": found.fills["newcomer"]})


def _phone(attempt: _Try, found: Found) -> _Result | None:
    return _plain(attempt, found, {"phone": {"of": found.tag, "number": found.fills["phone"]}})


def _litter(attempt: _Try, found: Found) -> _Result | None:
    """A new litter, or what is said of this one; what belongs to it may go on after commas."""
    sets, end, pieces, breed = _of_litter(found.fills), found.end, 0, found.fills.get("kin")
    while True:
        place = attempt.over_joints(end)
        more = next(
            (each for each in attempt.next(_extra("litter", "tail"), place) if not _of_litter(each.fills).keys() & sets.keys()), None
        )
        if more is None:
            break
        sets, end, pieces = sets | _of_litter(more.fills), more.end, pieces + len(_of_litter(more.fills))
        breed = breed or more.fills.get("kin")
    card = attempt.places.card
    opening = attempt.words[attempt.opening.at : found.end]
    new = any(word.text in ("litter", "new") for word in opening)
    bare = "count" in found.fills and attempt.words[attempt.opening.at].text not in _HAVE and not new and "damname" not in found.fills
    if (
        not sets
        or (bare and card.pups and not pieces)
        or (
            set(sets) == {"delivery"}
            and "had" not in {word.text for word in opening}
            and card.pups
            and not _TOLD & {word.text for word in opening}
        )
    ):
        return None
    return _plain(attempt, Found("litter", end, {}), {"litter": sets} | ({"breed": breed} if breed else {}))


_HAVE = frozenset(("we", "we've", "weve", "there", "there's", "i", "i've", "it's", "got", "she", "all", "total", "a", "welcomed"))
_TOLD = frozenset(("was", "were", "came", "birth", "delivery", "by"))


def _of_litter(fills: Mapping[str, Any]) -> Sets:
    sets: Sets = {}
    if "count" in fills:
        sets["pups"] = fills["count"]
    if "damname" in fills:
        sets["dam"] = fills["damname"]
    if "past" in fills:
        sets["born"] = fills["past"].isoformat()
    if "delivery" in fills:
        sets["delivery"] = fills["delivery"]
    return sets


_READERS: dict[str, Callable[[_Try, Found], _Result | None]] = {
    "name": _name,
    "list_of_names": _list_of_names,
    "every": _every,
    "snooze": _snooze,
    "on_duty": _on_duty,
    "roster": _roster,
    "units": _units,
    "formula": _formula,
    "adult_grams": _adult_grams,
    "breed": _breed,
    "reminders": _reminders,
    "invite": _invite,
    "phone": _phone,
    "litter": _litter,
}
