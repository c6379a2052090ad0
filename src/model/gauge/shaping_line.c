/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shaping_line.h"

#include <string.h>

#include "base/text.h"

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
    const struct shaping_wording *wording;
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

static int64_t place_of(const struct shaping_wording *wording, int64_t shaping)
{
    return (shaping * wording->plain + wording->phase) / wording->shapings;
}

static struct walk start_walk(const struct shaping_wording *wording)
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
static bool say(struct teller *teller, const struct shaping_wording *wording, int most_words)
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

int64_t shaping_half_gap_phase(const struct shaping_wording *wording)
{
    /* ((2i+1) P + k) div 2k = (i P + (P + k) / 2) div k, and the half cannot matter. */
    return ((int64_t)wording->plain + wording->shapings) / 2;
}

bool shaping_measure(const struct shaping_wording *wording, int most_words,
                     struct shaping_cost *cost)
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

void shaping_write(const struct shaping_wording *wording, struct text *text)
{
    struct teller teller = {.text = text};

    say(&teller, wording, INT32_MAX);
}
