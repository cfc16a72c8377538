"""The one layout pass: sharing of room, flows, splits, and text that fits what it is given."""

from __future__ import annotations

import itertools

import pygame
from hypothesis import given
from hypothesis import strategies as st

from trainer.window.kit.boxes import Column, Flow, Row, Spacer, shared
from trainer.window.kit.button import Button
from trainer.window.kit.glyphs import Face, Glyphs
from trainer.window.kit.label import Label, Paragraph
from trainer.window.kit.pen import MOST_SPRITE_PIXELS, Sprites
from trainer.window.kit.split import Split

SIZES = st.lists(st.integers(0, 400), min_size=1, max_size=8)


@given(sizes=SIZES, spare=st.integers(-1000, 1000), data=st.data())
def test_room_is_shared_to_the_pixel(sizes, spare, data) -> None:
    """With something that grows, sizes add up to what there is; nothing is ever less than nothing."""
    grows = data.draw(st.lists(st.sampled_from([0.0, 1.0, 2.0]), min_size=len(sizes), max_size=len(sizes)))
    out = shared(sizes, grows, spare)
    assert all(size >= 0 for size in out)
    if spare >= 0 and any(grows):
        assert sum(out) == sum(sizes) + spare
    if spare >= 0:
        assert all(new >= old for new, old in zip(out, sizes, strict=True))
        assert all(new == old for new, old, grow in zip(out, sizes, grows, strict=True) if grow == 0)
    else:
        assert sum(out) == max(sum(sizes) + spare, 0)


def test_a_column_gives_what_is_left_to_what_grows(stage) -> None:
    """One child keeps its height, the other takes the rest."""
    head, rest = Label("head"), Column(grow=1.0)
    column = Column(head, rest, gap=10, grow=1.0)
    stage(column)
    assert rest.rect.top == head.rect.bottom + 10
    assert rest.rect.bottom == column.rect.bottom


def test_a_row_puts_its_children_beside_one_another_at_one_height(stage) -> None:
    """They follow with the gap between; what grows pushes the next to the right edge."""
    one, two = Button("one", lambda: None), Button("two", lambda: None)
    row = Row(one, Spacer(grow=1.0), two, gap=6)
    stage(row)
    assert one.rect.left == row.rect.left
    assert two.rect.right == row.rect.right
    assert one.rect.centery == two.rect.centery


@given(count=st.integers(1, 25), width=st.integers(120, 900))
def test_a_flow_keeps_order_and_stays_inside(glyphs, count, width) -> None:
    """Children follow in reading order, none beyond the right edge, none over another."""
    from trainer.window.kit.style import Style

    pygame.font.init()
    style = Style(glyphs)
    flow = Flow(*(Button(f"button {n}", lambda: None) for n in range(count)))
    high = flow.measure(style, width)[1]
    flow.place(style, pygame.Rect(0, 0, width, high))
    places = [child.rect for child in flow.children]
    assert all(place.right <= width and place.bottom <= high for place in places)
    for before, after in itertools.pairwise(places):
        assert after.top >= before.bottom or (after.top == before.top and after.left >= before.right)


def test_a_hidden_child_takes_no_room(stage) -> None:
    """What comes after it moves up, and back when it is shown again."""
    one, two = Label("one"), Label("two")
    hand = stage(one, two)
    before = two.rect.top
    one.visible = False
    hand.root.lay_out()
    assert two.rect.top < before
    one.visible = True
    hand.root.lay_out()
    assert two.rect.top == before


def test_a_split_stands_beside_or_under(stage) -> None:
    """Below its least width the second part is under the first and both scroll together."""
    for width, beside in ((900, True), (700, False)):
        first, second = Label("first"), Label("second")
        stage(Split(first, second, least=800), size=(width, 400))
        assert (second.rect.top == first.rect.top) is beside


def test_everything_grows_with_the_scale(stage) -> None:
    """At twice the scale a button is twice as high, give or take a pixel."""
    heights = []
    for scale in (1.0, 2.0):
        button = Button("one", lambda: None)
        stage(button, scale=scale)
        heights.append(button.rect.height)
    assert abs(heights[1] - 2 * heights[0]) <= 1


TEXTS = st.text(alphabet="abcdefghi W°.\n", max_size=120)


@given(text=TEXTS, width=st.integers(20, 500), size=st.sampled_from([11, 14, 28]))
def test_wrapped_lines_fit_and_lose_nothing(glyphs: Glyphs, text, width, size) -> None:
    """No line is wider than the room (a single letter may be); joined again, no letter is missing."""
    lines = glyphs.wrap(text, Face.REGULAR, size, width)
    assert all(glyphs.width(line.strip(), Face.REGULAR, size) <= width or len(line) <= 1 for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace("\n", "").replace(" ", "")


@given(text=st.text(alphabet="abcW °", min_size=1, max_size=80), width=st.integers(0, 400))
def test_a_shortened_line_fits_and_is_a_beginning(glyphs: Glyphs, text, width) -> None:
    """It fits, and is the text itself or a beginning of it with an ellipsis."""
    shown = glyphs.elide(text, Face.REGULAR, 14, width)
    assert shown == "" or glyphs.width(shown, Face.REGULAR, 14) <= width
    assert shown == text or shown == "" or (shown.endswith("…") and text.startswith(shown[:-1].rstrip()))


def test_a_run_is_drawn_once(glyphs: Glyphs) -> None:
    """The same line in the same look is the same picture; another colour is another."""
    first = glyphs.run("guard", Face.REGULAR, 14, (0, 0, 0))
    assert glyphs.run("guard", Face.REGULAR, 14, (0, 0, 0)) is first
    assert glyphs.run("guard", Face.REGULAR, 14, (9, 0, 0)) is not first


def test_a_paragraph_is_as_high_as_its_lines(stage) -> None:
    """Longer text moves what follows down."""
    words, after = Paragraph("short"), Label("after")
    hand = stage(words, after)
    before = after.rect.top
    words.show("a sentence that is long enough to need more than one line of this narrow column " * 3)
    hand.root.lay_out()
    assert after.rect.top > before + 30


def test_the_tree_tells_role_label_value_and_state(stage) -> None:
    """A dump is plain data, all of it."""
    off = Button("off", lambda: None, acts=("note",))
    hand = stage(Label("words", name="caption"), off)
    off.enabled = False
    told = hand.root.tree()
    assert told["children"][0]["children"] == [
        {
            "role": "label",
            "label": "caption",
            "value": "words",
            "enabled": True,
            "rect": (10, 10, 580, told["children"][0]["children"][0]["rect"][3]),
        },
        {
            "role": "button",
            "label": "off",
            "value": None,
            "enabled": False,
            "rect": tuple(off.rect),
            "acts": ("note",),
        },
    ]


def test_kept_sprites_stay_below_their_limit() -> None:
    """A leaf that turns for hours leaves no more pictures behind than fit into the limit; the newest stay."""
    sprites = Sprites()
    painted = []
    for n in range(400):
        sprites.get(n, (200, 200), (0, 0, 0), lambda large, times, n=n: painted.append(n), 1)
    assert sprites._pixels <= MOST_SPRITE_PIXELS
    sprites.get(399, (200, 200), (0, 0, 0), lambda large, times: painted.append("again"), 1)
    sprites.get(0, (200, 200), (0, 0, 0), lambda large, times: painted.append("anew"), 1)
    assert painted[400:] == ["anew"]
