"""Cut lengths and cutting lists: hand calculations, the fewest bars, what cannot be cut."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessons_lib import Q_, InputError, Pipe
from lessons_lib.physics import take_off as physics
from lessons_lib.plant.take_off import Cut, End, cut_length, cutting_list

steady = settings(max_examples=100, deadline=None, derandomize=True)
PIPE = Pipe.nominal("copper L", "1/2 in")
CENTRES = Q_(1200, "mm")
MEASURED = End("elbow 90", "push", Q_(36, "mm"), Q_(25, "mm"))
BAR = Q_(3, "m")


def metres(value):
    return value.to("m").magnitude


# --- one piece ------------------------------------------------------------------------------------------------------


def test_cut_length_by_hand():
    """1200 - 36 - 36 + 25 + 25 = 1178 mm."""
    cut = cut_length(PIPE, CENTRES, MEASURED, MEASURED)
    assert cut.length.to("mm").magnitude == pytest.approx(1178, abs=1e-9)
    assert cut.measure == () and "measure (" not in str(cut)


def test_depth_is_added_and_not_taken_off():
    """The two slips: depth forgotten gives 1128 mm, depth subtracted 1078 mm."""
    cut = cut_length(PIPE, CENTRES, MEASURED, MEASURED).length.to("mm").magnitude
    assert cut - 1128 == pytest.approx(2 * 25) and cut - 1078 == pytest.approx(4 * 25)


def test_plain_ends_take_nothing_off():
    assert metres(cut_length(PIPE, CENTRES, End(None), End(None)).length) == pytest.approx(1.2, abs=1e-12)
    one = cut_length(PIPE, CENTRES, MEASURED, End(None)).length.to("mm").magnitude
    assert one == pytest.approx(1200 - 36 + 25, abs=1e-9)


def test_which_end_comes_first_does_not_matter():
    other = End("tee branch", "push", Q_(40, "mm"), Q_(27, "mm"))
    forth, back = cut_length(PIPE, CENTRES, MEASURED, other), cut_length(PIPE, CENTRES, other, MEASURED)
    assert metres(forth.length) == pytest.approx(metres(back.length), abs=1e-12)


def test_not_measured_is_said_and_provisional():
    """Push elbow on 5/8 in outside: depth 25 mm, centre to face 25 + 0.61 x 15.875 = 34.684 mm; 9.684 mm off at each end."""
    cut = cut_length(PIPE, CENTRES)
    assert cut.length.to("mm").magnitude == pytest.approx(1200 - 2 * 0.61 * 15.875, abs=1e-6)
    assert cut.measure == (
        "centre to face of the first end",
        "insertion depth of the first end",
        "centre to face of the second end",
        "insertion depth of the second end",
    )
    assert "measure (about 1.181 m)" in str(cut) and "in your hand" in cut.caution


@pytest.mark.parametrize(
    "end, missing, off",
    [
        (End("elbow 90", "push", insertion_depth=Q_(23, "mm")), ("centre to face of the first end",), 0.61 * 15.875),
        (End("elbow 90", "push", centre_to_face=Q_(36, "mm")), ("insertion depth of the first end",), 36 - 25),
        (
            End("elbow 90", "push", centre_to_face=Q_(20, "mm")),
            ("insertion depth of the first end",),
            0,
        ),  # no deeper than the middle
        (End("elbow 90", "solder", centre_to_face=Q_(24, "mm")), ("insertion depth of the first end",), 24 - 12.7),
    ],
)
def test_half_measured(end, missing, off):
    cut = cut_length(PIPE, CENTRES, end, End(None))
    assert cut.measure == missing
    assert cut.length.to("mm").magnitude == pytest.approx(1200 - off, abs=1e-6)


@pytest.mark.parametrize(
    "pipe, joint, depth",
    [
        (Pipe.nominal("copper L", "3/4 in"), "push", 29),
        (Pipe.nominal("copper L", "3/4 in"), "solder", 19.1),
        (Pipe.nominal("copper EN 1057", "22 mm"), "solder", 15.4),
        (Pipe.nominal("copper EN 1057", "15 mm"), "solder", 10.6),
        (Pipe.nominal("CPVC CTS", "1/2 in"), "cement", 12.7),
        (Pipe.nominal("PEX CTS", "1 in"), "crimp", 19),
    ],
)
def test_provisional_depth_by_outside_diameter(pipe, joint, depth):
    _, found, missing = End("elbow 90", joint).inside(pipe)
    assert 1e3 * found == pytest.approx(depth) and "insertion depth" in missing


def test_lists_of_lengths():
    cut = cut_length(PIPE, Q_(np.array([0.5, 1.0, 2.0]), "m"), MEASURED, MEASURED)
    assert metres(cut.length) == pytest.approx([0.478, 0.978, 1.978])


@steady
@given(st.floats(0.2, 5), st.floats(0, 0.05), st.floats(0, 0.05), st.floats(0, 1), st.floats(0, 1))
def test_pipe_between_the_faces_and_in_the_fittings(centres, face_1, face_2, share_1, share_2):
    """Pipe seen plus pipe hidden is the cut; it is never longer than centre to centre."""
    ends = [
        End("coupling", "push", Q_(face, "m"), Q_(share * face, "m"))
        for face, share in ((face_1, share_1), (face_2, share_2))
    ]
    length = metres(cut_length(PIPE, Q_(centres, "m"), *ends).length)
    assert length == pytest.approx((centres - face_1 - face_2) + share_1 * face_1 + share_2 * face_2, abs=1e-12)
    assert length <= centres + 1e-12


@pytest.mark.parametrize(
    "call, says",
    [
        (
            lambda: cut_length(PIPE, Q_(60, "mm"), MEASURED, MEASURED),
            "cut length: 60 mm centre to centre leaves no room for pipe",
        ),
        (lambda: cut_length(PIPE, Q_(60, "mm"), MEASURED, MEASURED), "the two fittings alone take 72 mm"),
        (lambda: cut_length(PIPE, Q_(2, "in"), MEASURED, MEASURED), "2.83465 in"),
        (
            lambda: End(centre_to_face=Q_(20, "mm"), insertion_depth=Q_(25, "mm")),
            "insertion depth: 25 mm goes beyond the middle",
        ),
        (lambda: End("elbo 90"), '"elbow 90"'),
        (lambda: End(joint="glue"), 'joint: "glue" is not known'),
        (lambda: End(centre_to_face=36), "centre to face: 36 carries no unit"),
        (lambda: End(insertion_depth=Q_(-1, "mm")), "insertion depth: -1 mm was given"),
        (lambda: End(insertion_depth=Q_(25, "degC")), "is not a length"),
        (lambda: cut_length("copper", CENTRES), "where a Pipe is needed"),
        (lambda: cut_length(PIPE, CENTRES, "elbow 90"), "end: give an End"),
        (lambda: cut_length(PIPE, Q_(0, "m")), "centre to centre: 0 m was given"),
        (lambda: cut_length(PIPE, 1.2), "centre to centre: 1.2 carries no unit"),
        (lambda: cut_length(PIPE, Q_(np.nan, "m")), "must be a finite number"),
    ],
)
def test_cuts_that_cannot_be(call, says):
    with pytest.raises(InputError) as caught:
        call()
    assert says in str(caught.value)


# --- a list of pieces -----------------------------------------------------------------------------------------------


def test_cutting_list_by_hand():
    """4 x 1.2 m and 2 x 0.9 m from 3 m, 2 mm kerf: 1.2 + 1.2 and 0.9 + 0.9 + 1.2 (3.0 + 2 kerfs: too long), so three bars:
    6.6 m of 9 m, 2.4 m waste, 26.7 %; left over 3 - 2 x 1.202 = 0.596 m twice, 3 - 2 x 0.902 = 1.196 m once."""
    found = cutting_list([(Q_(1.2, "m"), 4), (Q_(0.9, "m"), 2)], BAR)
    assert found.bars_needed == 3 and found.method == "fewest bars, proven"
    assert metres(found.total) == pytest.approx(6.6) and metres(found.waste) == pytest.approx(2.4)
    assert found.waste_share.to("").magnitude == pytest.approx(2.4 / 9)
    assert sorted(metres(found.left_over)) == pytest.approx([0.596, 0.596, 1.196])


def test_without_a_kerf_it_just_fits():
    found = cutting_list([Q_(1.2, "m"), (Q_(0.9, "m"), 2)], BAR, kerf=Q_(0, "mm"))
    assert found.bars_needed == 1 and metres(found.waste) == pytest.approx(0, abs=1e-9)
    assert cutting_list([Q_(1.2, "m"), (Q_(0.9, "m"), 2)], BAR).bars_needed == 2


def test_the_last_piece_needs_no_cut():
    """Two pieces of 1.499 m and one kerf of 2 mm are exactly 3 m; a piece of the stock's own length is no cut at all."""
    assert cutting_list([(Q_(1.499, "m"), 2)], BAR).bars_needed == 1
    assert cutting_list([BAR], BAR).bars_needed == 1
    assert cutting_list([Q_(10, "ft")], Q_(3.048, "m")).bars_needed == 1
    # in feet the stock is a rounding shorter than the same length in metres
    assert Q_(20, "ft").to("m").magnitude < 6.096 and cutting_list([Q_(6.096, "m")], Q_(20, "ft")).bars_needed == 1


def test_better_than_first_fit_decreasing():
    """0.5 0.5 0.5 0.4 0.4 0.3 0.2 0.2 from 1 m: first-fit decreasing takes four bars, 3 m are enough."""
    cuts = [0.5, 0.5, 0.5, 0.4, 0.4, 0.3, 0.2, 0.2]
    assert len(physics._first_fit(cuts, 1 + physics.FIT)) == 4
    found = physics.nest(cuts, 1.0, 0.0)
    assert len(found.bars) == 3 and found.proven
    assert sorted(place for bar in found.bars for place in bar) == list(range(8))


def fewest(cuts, stock, kerf):
    """Every way of giving each cut a bar, tried."""
    for count in range(1, len(cuts) + 1):
        for way in product(range(count), repeat=len(cuts)):
            loads = [sum(cut + kerf for cut, bar in zip(cuts, way) if bar == number) for number in range(count)]
            if max(loads) <= stock + kerf + physics.FIT:
                return count
    return 0


@steady
@given(st.lists(st.integers(1, 100), min_size=1, max_size=6), st.sampled_from([0, 1, 5]))
def test_fewest_bars_against_every_way_there_is(cuts, kerf):
    found = physics.nest([float(cut) for cut in cuts], 100.0, float(kerf))
    assert found.proven and len(found.bars) == fewest(cuts, 100, kerf)


@steady
@given(st.lists(st.floats(0.05, 3), min_size=1, max_size=40), st.floats(0, 5))
def test_every_piece_is_cut_once_and_every_bar_holds_its_pieces(cuts, kerf):
    found = cutting_list([Q_(cut, "m") for cut in cuts], BAR, kerf=Q_(kerf, "mm"))
    assert sorted(length for bar in found.bars for length in metres(bar)) == pytest.approx(sorted(cuts))
    for bar in found.bars:
        assert np.sum(metres(bar)) + (len(bar.magnitude) - 1) * kerf / 1e3 <= 3 + 1e-8
    assert metres(found.waste) == pytest.approx(3 * found.bars_needed - sum(cuts), abs=1e-9)
    assert found.bars_to_buy >= found.bars_needed >= sum(cuts) / 3 - 1e-9


def test_many_cuts_are_done_in_time():
    """More cuts than the search takes on: first-fit decreasing stands, and says so where it is not proven."""
    rng = np.random.default_rng(5)
    found = cutting_list(Q_(rng.uniform(0.3, 1.6, 500), "m"), BAR)
    assert found.bars_needed <= 1.05 * metres(found.total) / 3 + 1
    assert found.method in ("fewest bars, proven", "first-fit decreasing, no fewer bars found")


@pytest.mark.parametrize("spare, buy", [(0, 2), (0.1, 2), (0.25, 2), (0.5, 3), (1, 4)])
def test_spare_share(spare, buy):
    """3.8 m in two 3 m bars, 1.098 m left over of each: 0, 0.38 and 0.95 m lie in that; 1.9 m take one more bar, 3.8 m two."""
    found = cutting_list([(Q_(1.9, "m"), 2)], BAR, spare=spare)
    assert metres(found.spare_length) == pytest.approx(3.8 * spare) and found.bars_to_buy == buy


def test_provisional_cuts_make_a_provisional_list():
    sure, unsure = cut_length(PIPE, CENTRES, MEASURED, MEASURED), cut_length(PIPE, CENTRES)
    assert not cutting_list([sure, (sure, 2)], BAR).measure and cutting_list([sure, (unsure, 2)], BAR).measure
    assert isinstance(unsure, Cut) and "bar 1" in str(cutting_list([sure], BAR))


@pytest.mark.parametrize(
    "call, says",
    [
        (lambda: cutting_list([Q_(3.1, "m")], BAR), "cut: 3.1 m is longer than the stock, 3 m"),
        (lambda: cutting_list([Q_(11, "ft")], BAR), "3.3528 m is longer than the stock"),
        (lambda: cutting_list([], BAR), "there is nothing to cut"),
        (lambda: cutting_list([(Q_(1, "m"), 0)], BAR), "there is nothing to cut"),
        (lambda: cutting_list(3, BAR), "cuts: 3 was given"),
        (lambda: cutting_list([1.2], BAR), "cut: 1.2 carries no unit"),
        (lambda: cutting_list([Q_(-1, "m")], BAR), "cut: -1 m was given"),
        (lambda: cutting_list([Q_(1, "kg")], BAR), "is not a length"),
        (lambda: cutting_list([(Q_(1, "m"), 1.5)], BAR), "number of one length: 1.5 was given"),
        (lambda: cutting_list([(Q_(1, "m"), 10**9)], BAR), "more than 2000 pieces"),
        (lambda: cutting_list([Q_(1, "m")], Q_(np.array([3.0, 6.0]), "m")), "give one value"),
        (lambda: cutting_list([Q_(1, "m")], Q_(0, "m")), "stock length: 0 m was given"),
        (lambda: cutting_list([Q_(1, "m")], BAR, kerf=Q_(-1, "mm")), "saw kerf: -1 mm was given"),
        (lambda: cutting_list([Q_(1, "m")], BAR, spare=10), "spare share: 10 was given"),
    ],
)
def test_lists_that_cannot_be(call, says):
    with pytest.raises(InputError) as caught:
        call()
    assert says in str(caught.value)
