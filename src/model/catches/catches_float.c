/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catches_float.h"

#include <string.h>

#include "base/arena.h"

enum {
    KEY_BITS = 63,
    SCAN_LENGTH = 12 /* positions searched one by one rather than by halving: quicker */
};

static int bits_of(uint64_t most)
{
    int bits = 0;

    while (most >> bits)
        bits++;
    return bits;
}

/* The most a float can gather, catch by catch. Stacked: one other per strand above, below and
 * behind the same stitch, and itself in a row that is its own neighbour. Near: per strand, in
 * two rows and both ways, stagger - 1 columns. */
struct catch_key catches_key(const struct catch_rules *rules, int row_sts, int nyarns)
{
    int leave_sts = rules->leave_sts < row_sts ? rules->leave_sts : row_sts;
    uint64_t catches = (uint64_t)(row_sts / (leave_sts + 1) + 1);
    uint64_t strands = (uint64_t)nyarns;
    uint64_t stagger = (uint64_t)rules->stagger_cols;
    int square_bits = bits_of((uint64_t)leave_sts * (uint64_t)row_sts);
    int clear_bits = 2;
    int near_bits = bits_of(catches * strands * 4 * (stagger - 1));
    int stack_bits = bits_of(catches * (strands * 3 + 1));
    int over = square_bits + clear_bits + near_bits + stack_bits - KEY_BITS;
    struct catch_key key = {.leave_sts = leave_sts, .clear_ends = rules->clear_ends};

    key.square_shift = over < 0 ? 0 : over < square_bits ? over : square_bits;
    key.clear_unit = UINT64_C(1) << (square_bits - key.square_shift);
    key.near_unit = key.clear_unit << clear_bits;
    key.stack_unit = key.near_unit << near_bits;
    return key;
}

struct catch_scratch catches_scratch(struct arena *arena, int row_sts)
{
    size_t most = (size_t)row_sts + 2;
    struct catch_scratch scratch;

    /* A catch has at most 2 (m + 1) places, and there are at most n / (m + 1) + 1 catches, m < n;
     * with both ends: under 6 n. */
    scratch.value[0] = arena_alloc(arena, most, sizeof(uint64_t));
    scratch.value[1] = arena_alloc(arena, most, sizeof(uint64_t));
    scratch.next = arena_alloc(arena, 6 * most, sizeof(int));
    return scratch;
}

static bool near_end(const struct catch_key *key, int span_sts, int position)
{
    return key->clear_ends > 1 && span_sts > 2 &&
           (position <= key->clear_ends || position > span_sts - key->clear_ends);
}

/* The ends rule is waived where it cannot be kept: floats of two, and nothing left loose. */
static bool ends_free(const struct catch_key *key, int span_sts)
{
    return span_sts < 3 || key->leave_sts < 1;
}

bool catches_float_even(const struct catch_key *key, const struct catch_float *span,
                        const uint64_t *ground, int ncatches, int *position)
{
    int loose = span->span_sts - ncatches;
    int short_sts = loose / (ncatches + 1);
    int nshort = ncatches + 1 - loose % (ncatches + 1);
    int at = 0;

    if (short_sts < 1 && !ends_free(key, span->span_sts))
        return false;
    for (int j = 0; j < ncatches; j++) {
        at += short_sts + (j >= nshort) + 1;
        position[j] = at;
        if (ground[span->column[at - 1]] != 0)
            return false;
    }
    return !near_end(key, span->span_sts, position[0]) &&
           !near_end(key, span->span_sts, position[ncatches - 1]);
}

/* The places open to catch j: close enough to be reached from both ends with no piece over
 * the limit, and with a stitch for each of the others. Catch 0 is the stitch before the float,
 * catch ncatches + 1 the one after. */
struct window {
    int low, high;
};

static struct window catch_window(const struct catch_key *key, int span_sts, int ncatches, int j)
{
    int step = key->leave_sts + 1;
    int first = ends_free(key, span_sts) ? 1 : 2;
    int64_t reach_low = (int64_t)span_sts + 1 - (int64_t)(ncatches + 1 - j) * step;
    int64_t reach_high = (int64_t)j * step;
    int room_low = first + j - 1;
    int room_high = span_sts + 1 - first - (ncatches - j);

    if (j == 0)
        return (struct window){0, 0};
    if (j > ncatches)
        return (struct window){span_sts + 1, span_sts + 1};
    return (struct window){reach_low > room_low ? (int)reach_low : room_low,
                           reach_high < room_high ? (int)reach_high : room_high};
}

/* One catch's places in turn: value = least key of the rest of the float from that place on. */
struct layer {
    const struct catch_key *key;
    struct window here, after;
    const uint64_t *value_after; /* [place - after.low] */
    uint64_t *value;             /* [place - here.low] */
    int *next;                   /* [place - here.low]: place of the catch after it */
};

static int layer_best_next(const struct layer *layer, int place, int low, int high)
{
    const uint64_t *value_after = layer->value_after;
    const int first = layer->after.low;
    const int leave_sts = layer->key->leave_sts, shift = layer->key->square_shift;
    uint64_t least = UINT64_MAX;
    int best = low;

    if (low <= place)
        low = place + 1;
    if (high > place + 1 + leave_sts)
        high = place + 1 + leave_sts;
    for (int next = low; next <= high; next++) {
        uint64_t loose = (uint64_t)(next - place - 1);
        uint64_t sum = value_after[next - first] + ((loose * loose) >> shift);

        if (sum < least) {
            least = sum;
            best = next;
        }
    }
    layer->value[place - layer->here.low] = least;
    layer->next[place - layer->here.low] = best;
    return best;
}

/* Squares are strictly convex, so the best next place never moves right as this one moves
 * left, whatever stands in the way: were they to cross, uncrossing would cost less. Hence
 * halving: n log n for a wide limit instead of n m. */
static void layer_fill(const struct layer *layer, int low, int high, int next_low, int next_high)
{
    while (low <= high) {
        if (high - low < SCAN_LENGTH) {
            next_low = layer_best_next(layer, low, next_low, next_high);
        } else {
            int middle = low + (high - low) / 2;
            int best = layer_best_next(layer, middle, next_low, next_high);

            layer_fill(layer, low, middle - 1, next_low, best);
            low = middle;
            next_low = best;
        }
        low++;
    }
}

static void layer_add_places(const struct layer *layer, const struct catch_float *span,
                             const uint64_t *ground)
{
    for (int place = layer->here.low; place <= layer->here.high; place++) {
        uint64_t *value = &layer->value[place - layer->here.low];

        *value += ground[span->column[place - 1]];
        if (near_end(layer->key, span->span_sts, place))
            *value += layer->key->clear_unit;
    }
}

uint64_t catches_float_place(const struct catch_key *key, const struct catch_float *span,
                             const uint64_t *ground, int ncatches, int *position,
                             struct catch_scratch *scratch)
{
    struct layer layer = {.key = key, .next = scratch->next};
    int place = 0;

    layer.here = catch_window(key, span->span_sts, ncatches, ncatches + 1);
    layer.value = scratch->value[(ncatches + 1) % 2];
    layer.value[0] = 0;
    for (int j = ncatches; j >= 0; j--) {
        layer.after = layer.here;
        layer.value_after = layer.value;
        layer.here = catch_window(key, span->span_sts, ncatches, j);
        layer.value = scratch->value[j % 2];
        layer_fill(&layer, layer.here.low, layer.here.high, layer.after.low, layer.after.high);
        if (j > 0) {
            layer_add_places(&layer, span, ground);
            layer.next += layer.here.high - layer.here.low + 1;
        }
    }
    /* Now forwards: layer.next is catch 0's, each further catch's lies before it. */
    for (int j = 0; j < ncatches; j++) {
        struct window window = catch_window(key, span->span_sts, ncatches, j + 1);

        place = layer.next[place - layer.here.low];
        position[j] = place;
        layer.here = window;
        layer.next -= window.high - window.low + 1;
    }
    return layer.value[0];
}

/* --- what lies near ---------------------------------------------------------------------- */

void catch_ground_clear(struct catch_ground *ground)
{
    memset(ground->at, 0, (size_t)ground->ncols * sizeof *ground->at);
    for (int c = 0; ground->alone && c < ground->ncols; c++)
        ground->at[c] = ground->key.stack_unit;
}

static void add_beside(struct catch_ground *ground, int column, uint64_t key)
{
    if (column < 0 || column >= ground->ncols) {
        if (!ground->ring)
            return;
        column = (column % ground->ncols + ground->ncols) % ground->ncols;
    }
    ground->at[column] += key;
}

/* Taking up again adds the negative, modulo 2^64: the sums come out all the same. */
void catch_ground_add(struct catch_ground *ground, int column, int stacks, int nears)
{
    ground->at[column] += ground->key.stack_unit * (uint64_t)stacks;
    for (int away = 1; away < ground->stagger_cols; away++) {
        add_beside(ground, column - away, ground->key.near_unit * (uint64_t)nears);
        add_beside(ground, column + away, ground->key.near_unit * (uint64_t)nears);
    }
}

/* Two strands behind one stitch; in a row that lies on itself stacked above and below too. */
void catch_ground_add_here(struct catch_ground *ground, int column, int sign)
{
    catch_ground_add(ground, column, sign * (ground->alone ? 3 : 1),
                     sign * (ground->alone ? 2 : 0));
}
