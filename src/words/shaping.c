/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How many rounds, and for each the wording that takes the fewest words.
 *
 * Terms: a word is what stands between two spaces: "(k6, m1) 11 times" is four words,
 * "(k10, m1) twice" three.
 */
#include "shaping.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "base/work.h"
#include "model/gauge/sizing.h"

enum {
    STITCHES_MOST = 1000000,
    /* Shapings looked at for one round: about a hundredth of a second. */
    SEARCH_STEPS = 2000000
};

/* Shaping i of `shapings`, from 0, comes after (i x plain + phase) div shapings plain
 * stitches; the whole is worked `times` times. */
struct wording {
    int plain;    /* plain stitches shared out, >= 0 */
    int shapings; /* > 0 */
    int times;
    bool decrease;
    int64_t phase; /* 0 <= phase < plain + shapings */
};

struct cost {
    int words;
    int64_t characters;
    bool runs_on; /* repeated, and its end and beginning are alike: "k1) (k2" are read as two,
                     knitted as one */
};

/* --- one round as words ---------------------------------------------------------------- */

/* The same code measures (text NULL) and writes, so the two cannot differ. */
struct teller {
    struct text *text;
    int words;
    int64_t characters;
    bool after_item; /* a comma is due before the next one */
};

/* `gap` plain stitches, then `count` shapings with none between. */
struct block {
    int64_t gap, count;
};

/* Place after place with sums alone: a division for each would be most of the work. */
struct walk {
    const struct wording *wording;
    int64_t next;        /* shaping to come */
    int64_t place, rest; /* its place: (next x plain + phase) div shapings, and what is over */
    int64_t each, over;  /* plain div shapings, and what is over */
    int64_t passed;      /* plain stitches before the last one */
};

static void put(struct teller *teller, const char *string)
{
    teller->characters += (int64_t)strlen(string);
    if (teller->text)
        text_add(teller->text, string);
}

static void put_number(struct teller *teller, int64_t number)
{
    for (int64_t n = number; n > 0; n /= 10)
        teller->characters++;
    if (teller->text)
        text_addf(teller->text, "%lld", (long long)number);
}

static void start_item(struct teller *teller)
{
    if (teller->after_item)
        put(teller, ", ");
    teller->after_item = true;
}

static void open_bracket(struct teller *teller)
{
    start_item(teller);
    put(teller, "(");
    teller->after_item = false;
}

static void close_bracket(struct teller *teller, int64_t times)
{
    teller->after_item = true;
    teller->words += times == 2 ? 1 : 2;
    if (times == 2) {
        put(teller, ") twice");
        return;
    }
    put(teller, ") ");
    put_number(teller, times);
    put(teller, " times");
}

static void say_plain(struct teller *teller, int64_t stitches)
{
    if (stitches == 0)
        return;
    start_item(teller);
    teller->words++;
    put(teller, "k");
    put_number(teller, stitches);
}

static void say_shapings(struct teller *teller, bool decrease, int64_t count)
{
    if (count > 1)
        open_bracket(teller);
    start_item(teller);
    teller->words++;
    put(teller, decrease ? "k2tog" : "m1");
    if (count > 1)
        close_bracket(teller, count);
}

static void say_blocks(struct teller *teller, struct block block, int64_t times, bool decrease)
{
    if (times > 1)
        open_bracket(teller);
    say_plain(teller, block.gap);
    say_shapings(teller, decrease, block.count);
    if (times > 1)
        close_bracket(teller, times);
}

static int64_t place_of(const struct wording *wording, int64_t shaping)
{
    return (shaping * wording->plain + wording->phase) / wording->shapings;
}

static struct walk start_walk(const struct wording *wording)
{
    return (struct walk){.wording = wording,
                         .place = wording->phase / wording->shapings,
                         .rest = wording->phase % wording->shapings,
                         .each = wording->plain / wording->shapings,
                         .over = wording->plain % wording->shapings};
}

static void step(struct walk *walk)
{
    walk->next++;
    walk->place += walk->each;
    walk->rest += walk->over;
    if (walk->rest >= walk->wording->shapings) {
        walk->rest -= walk->wording->shapings;
        walk->place++;
    }
}

static bool take_block(struct walk *walk, struct block *block)
{
    int64_t shapings = walk->wording->shapings, place = walk->place;

    if (walk->next >= shapings)
        return false;
    *block = (struct block){place - walk->passed, 0};
    do {
        block->count++;
        step(walk);
    } while (walk->next < shapings && walk->place == place);
    walk->passed = place;
    return true;
}

/* false: given up after most_words. */
static bool say(struct teller *teller, const struct wording *wording, int most_words)
{
    struct walk walk = start_walk(wording);
    struct block block, next;
    bool more = take_block(&walk, &block);

    if (wording->times > 1)
        open_bracket(teller);
    while (more) {
        int64_t alike = 0;

        do {
            alike++;
            more = take_block(&walk, &next);
        } while (more && next.gap == block.gap && next.count == block.count);
        say_blocks(teller, block, alike, wording->decrease);
        if (teller->words > most_words)
            return false;
        block = next;
    }
    say_plain(teller, wording->plain - walk.passed);
    if (wording->times > 1)
        close_bracket(teller, wording->times);
    return teller->words <= most_words;
}

/* The phase of half a gap at each end: place i is ((2i+1) plain + shapings) div (2 shapings). */
static int64_t half_gap_phase(const struct wording *wording)
{
    /* ((2i+1) P + k) div 2k = (i P + (P + k) / 2) div k, and the half cannot matter. */
    return ((int64_t)wording->plain + wording->shapings) / 2;
}

/* What the wording costs; false as soon as it takes more than most_words. */
static bool measure(const struct wording *wording, int most_words, struct cost *cost)
{
    struct teller teller = {.text = NULL};
    bool within = say(&teller, wording, most_words);
    bool starts_plain = place_of(wording, 0) > 0;
    bool ends_plain = place_of(wording, wording->shapings - 1) < wording->plain;

    cost->words = teller.words;
    cost->characters = teller.characters;
    cost->runs_on = wording->times > 1 && starts_plain == ends_plain;
    return within;
}

/* --- the wording of fewest words --------------------------------------------------------- */

struct choice {
    struct wording wording;
    struct cost cost;
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

static void try_phase(struct choice *best, struct wording wording, int64_t phase)
{
    int64_t half = half_gap_phase(&wording);
    struct choice candidate = {.slid = phase > half ? phase - half : half - phase, .any = true};

    /* Outside these, a shaping would fall before the first stitch or after the last. */
    if (phase < 0 || phase >= (int64_t)wording.plain + wording.shapings)
        return;
    wording.phase = phase;
    candidate.wording = wording;
    if (measure(&wording, best->any ? best->cost.words : INT_MAX, &candidate.cost) &&
        is_better(&candidate, best))
        *best = candidate;
}

/* A phase up to one gap's worth of k away moves each shaping by at most one stitch. */
static void try_phases(struct choice *best, struct wording wording, bool round)
{
    int64_t half = half_gap_phase(&wording), k = wording.shapings;
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
    struct wording whole = {
        .plain = decrease ? from - 2 * k : from, .shapings = k, .times = 1, .decrease = decrease};
    int times = (int)sizing_gcd(from, k);
    struct choice best = {.any = false};

    /* With one shaping in each, "(k3, m1, k3) 12 times" is short but cuts every gap in two. */
    if (times > 1 && k / times > 1) {
        struct wording part = whole;

        part.plain /= times;
        part.shapings /= times;
        part.times = times;
        try_phases(&best, part, round);
    }
    try_phases(&best, whole, round);
    say(&(struct teller){.text = text}, &best.wording, INT_MAX);
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
