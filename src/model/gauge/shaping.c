/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How many rounds, and for each the wording to use. The wording itself is in shaping_line.c.
 */
#include "shaping.h"

#include <limits.h>
#include <stdint.h>
#include <stdlib.h>

#include "base/arena.h"
#include "base/text.h"
#include "base/work.h"
#include "shaping_line.h"
#include "sizing.h"

enum {
    STITCHES_MOST = 1000000,
    /* Shapings looked at for one round: about a hundredth of a second. */
    SEARCH_STEPS = 2000000
};

struct choice {
    struct shaping_wording wording;
    struct shaping_cost cost;
    int64_t slid; /* how far the phase is from half a gap */
    bool any;
};

/* Fewest words; then the one that does not read on over its own repeat; then the one nearest half a
 * gap; then the shortest to write; then the one that starts with plain stitches. Characters come
 * after places, or "k10 ... k10" would become "k9 ... k11" to save one. */
static bool is_better(const struct choice *a, const struct choice *b)
{
    int64_t a_slid = a->slid * b->wording.shapings, b_slid = b->slid * a->wording.shapings;

    if (!b->any || a->cost.words != b->cost.words)
        return !b->any || a->cost.words < b->cost.words;
    if (a->cost.runs_on != b->cost.runs_on)
        return b->cost.runs_on;
    if (a_slid != b_slid)
        return a_slid < b_slid;
    if (a->cost.characters != b->cost.characters)
        return a->cost.characters < b->cost.characters;
    return a->wording.phase > b->wording.phase;
}

static void try_phase(struct choice *best, struct shaping_wording wording, int64_t phase)
{
    int64_t half = shaping_half_gap_phase(&wording);
    struct choice candidate = {.slid = phase > half ? phase - half : half - phase, .any = true};

    /* Outside these, a shaping would fall before the first stitch or after the last. */
    if (phase < 0 || phase >= (int64_t)wording.plain + wording.shapings)
        return;
    wording.phase = phase;
    candidate.wording = wording;
    if (shaping_measure(&wording, best->any ? best->cost.words : INT_MAX, &candidate.cost) &&
        is_better(&candidate, best))
        *best = candidate;
}

/* A phase up to one gap's worth of k away moves each shaping by at most one stitch. */
static void try_phases(struct choice *best, struct shaping_wording wording, bool round)
{
    int64_t half = shaping_half_gap_phase(&wording), k = wording.shapings;
    int64_t stride = 1 + 2 * k * k / SEARCH_STEPS;

    try_phase(best, wording, half);
    if (!round)
        return;
    /* Where the first gap is a whole one: most likely the fewest words. */
    for (int64_t phase = (half - 1) / k * k; phase <= half + k; phase += k)
        try_phase(best, wording, phase);
    for (int64_t off = stride; off <= k; off += stride) {
        try_phase(best, wording, half + off);
        try_phase(best, wording, half - off);
    }
}

static void say_one_round(int from, int to, bool round, struct text *text)
{
    bool decrease = to < from;
    int k = abs(to - from);
    struct shaping_wording whole = {
        .plain = decrease ? from - 2 * k : from, .shapings = k, .times = 1, .decrease = decrease};
    int times = (int)sizing_gcd(from, k);
    struct choice best = {.any = false};

    /* With one shaping in each, "(k3, m1, k3) 12 times" is short but cuts every gap in two. */
    if (times > 1 && k / times > 1) {
        struct shaping_wording part = whole;

        part.plain /= times;
        part.shapings /= times;
        part.times = times;
        try_phases(&best, part, round);
    }
    try_phases(&best, whole, round);
    shaping_write(&best.wording, text);
}

int shaping_rounds(int64_t from, int64_t to)
{
    int rounds = 0;

    if (to > from) {
        for (int64_t n = from; n < to; n *= 2)
            rounds++;
    } else {
        for (int64_t n = to; n < from; n *= 2)
            rounds++;
    }
    return rounds;
}

bool shaping_is_even(int64_t from, int64_t to)
{
    int64_t shapings = to > from ? to - from : from - to;
    int64_t plain = to > from ? from : from - 2 * shapings;

    if (shapings == 0)
        return true;
    if (shaping_rounds(from, to) > 1)
        return to > from ? from << shaping_rounds(from, to) == to : to << shaping_rounds(from, to) == from;
    return plain % shapings == 0;
}

/* Whole doublings and halvings take the fewest words; what is over goes where there are the
 * most stitches to spread it among: last when increasing, first when decreasing. */
static int next_count(int from, int to, int rounds)
{
    if (to > from)
        return to < 2 * from ? to : 2 * from;
    return to * (1 << (rounds - 1));
}

int shaping_spread(struct work *work, int from, int to, bool round, struct shaping *shaping)
{
    struct text line = text_create(work->arena), sum = text_create(work->arena);

    *shaping = (struct shaping){.from = from, .to = to};
    if (from < 1 || to < 1 || from > STITCHES_MOST || to > STITCHES_MOST)
        return -1;
    if (from == to)
        return 0;
    shaping->rounds = shaping_rounds(from, to);
    text_addf(&sum, "%d", from);
    for (int left = shaping->rounds, now = from; left > 0; left--) {
        int next = next_count(now, to, left);

        say_one_round(now, next, round, &line);
        text_add(&line, left > 1 ? "; then " : "");
        text_addf(&sum, " %c %d", to > from ? '+' : '-', abs(next - now));
        now = next;
    }
    text_addf(&sum, " = %d", to);
    shaping->line = line.bytes;
    shaping->sum = sum.bytes;
    return shaping->rounds > 1;
}
