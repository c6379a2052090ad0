/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Three small sums a knitter does on the back of an envelope: spread, fit, float.
 */
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/text.h"
#include "command.h"
#include "inside.h"
#include "model/catches/catches.h"
#include "model/fit/fit.h"
#include "model/gauge/gauge.h"
#include "model/gauge/sizing.h"
#include "words/remedy.h"
#include "words/say.h"
#include "words/shaping.h"

enum { STITCHES_MAX = 1000000, FLOAT_MAX = 1000 };

/* Given: a length that reads. */
static bool is_metric(const char *text)
{
    struct quantity quantity;

    return command_read_quantity(text, &quantity) && (quantity.unit == UNIT_CM || quantity.unit == UNIT_MM);
}

/* --stitches 31 1/2, 32 --over 4 in: the pooled gauge. */
static enum run_status read_gauge(const struct arguments *arguments, struct rational *per_in)
{
    enum { COUNTS_MAX = 50 };
    struct quantity list[COUNTS_MAX];
    struct rational counts[COUNTS_MAX], over_in;
    struct gauge_axis axis;
    size_t fault;
    int n = 0;

    if (!arguments->stitches || !arguments->over)
        return command_usage("give the gauge: --stitches 32 --over '4 in'.");
    if (!command_read_length(arguments->over, &over_in))
        return command_usage("--over takes a length with its unit, such as '4 in' or '10 cm', not %s.",
                             arguments->over);
    if (quantity_list_read(arguments->stitches, strlen(arguments->stitches), list, NULL, COUNTS_MAX,
                           &n, &fault) != NUMBER_OK ||
        n < 1 || n > COUNTS_MAX)
        return command_usage("--stitches takes counts such as '31 1/2, 32', not %s.",
                             arguments->stitches);
    for (int i = 0; i < n; i++) {
        counts[i] = list[i].value;
        if (rational_sign(counts[i]) <= 0 || (list[i].unit != UNIT_NONE && list[i].unit != UNIT_STITCH))
            return command_usage("--stitches takes counts of stitches above none, not %s.",
                                 arguments->stitches);
    }
    if (gauge_pool(counts, n, over_in, &axis) < 0)
        return command_usage("these counts are too fine to be kept exactly: give quarters or eighths.");
    *per_in = axis.per_in;
    return RUN_DONE;
}

enum run_status command_spread(const struct arguments *arguments)
{
    struct work *work = &arguments->core->work;
    const char *to_word = arguments->word[arguments->nwords - 1];
    struct text text = text_create(work->arena);
    struct shaping shaping;
    int from, to;

    if (arguments->nwords == 3 && strcmp(arguments->word[1], "to") != 0)
        return command_usage("write: strandwise spread 72 to 84.");
    if (!command_read_count(arguments->word[0], UNIT_STITCH, STITCHES_MAX, &from) ||
        !command_read_count(to_word, UNIT_STITCH, STITCHES_MAX, &to))
        return command_usage("spread takes two whole numbers of stitches from 1 to a million, such "
                             "as 72 to 84.");
    if (from == to)
        text_addf(&text, "%d stitches stay %d: nothing to shape.\n", from, to);
    else if (shaping_spread(work, from, to, !arguments->flat, &shaping) < 0)
        return command_usage("from %d to %d stitches cannot be spread.", from, to);
    else
        text_addf(&text, "%s\n%s%s\n", shaping.line, shaping.sum,
                  shaping.rounds > 1 ? arena_printf(work->arena, " in %d %s", shaping.rounds,
                                                    say_rounds(!arguments->flat)->many)
                                     : "");
    return command_put(arguments, text.bytes, text.length);
}

static void put_count(struct text *text, int64_t stitches, int repeat, struct rational per_in,
                      struct rational measure_in, bool cm_first)
{
    double inches = (double)stitches / rational_double(per_in);

    text_addf(text, "  %lld stitches, %lld x %d: ", (long long)stitches,
              (long long)(stitches / repeat), repeat);
    text_add(text, say_length(text->arena, inches, cm_first));
    text_addf(text, ", %+.1f %%\n", 100.0 * (inches / rational_double(measure_in) - 1.0));
}

enum run_status command_fit(const struct arguments *arguments)
{
    struct work *work = &arguments->core->work;
    struct text text = text_create(work->arena);
    struct fit_question question = {.round = !arguments->flat};
    struct fit_answer *answer;
    struct rational measure_in;
    int64_t nearest;
    enum run_status status = read_gauge(arguments, &question.per_in);

    if (status != RUN_DONE)
        return status;
    if (!command_read_count(arguments->word[0], UNIT_STITCH, STITCHES_MAX, &question.repeat_sts))
        return command_usage("fit takes the stitches of one repeat, such as 12, not %s.",
                             arguments->word[0]);
    if (!arguments->measure || !command_read_length(arguments->measure, &measure_in))
        return command_usage("give the finished measure: --measure '10 1/4 in'.");
    question.cm_first = is_metric(arguments->measure);
    question.target_sts = rational_mul(measure_in, question.per_in);
    question.gauge_reach = tables_value(work->tables, "needle_fit_ratio");
    question.near_ratio = tables_value(work->tables, "fit_near_ratio");
    question.far_ratio = tables_value(work->tables, "fit_far_ratio");
    question.redraw_ratio = tables_value(work->tables, "fit_redraw_ratio");
    if (!rational_is_value(question.target_sts) || rational_double(question.target_sts) > STITCHES_MAX)
        return command_usage("measure and gauge give more than a million stitches: check the units.");
    nearest = sizing_nearest_multiple(question.target_sts, question.repeat_sts, 0);
    text_add(&text, "Wanted: ");
    text_stitches(&text, question.target_sts);
    text_add(&text, " stitches. Nearest whole repeats:\n");
    put_count(&text, nearest, question.repeat_sts, question.per_in, measure_in,
              question.cm_first);
    answer = fit_answer(work, &question);
    remedy_say(work, answer);
    for (int i = 0; i < answer->count; i++) {
        text_add(&text, i == 0 ? "\nWays round it, the easiest that meets the measure first:\n- " : "- ");
        text_wrap(&text, answer->remedies[i].line, 2, 2, 80);
        text_add(&text, "\n");
    }
    return command_put(arguments, text.bytes, text.length);
}

/* A lone float of n: a round of n + 1 with one stitch of its colour has just that one. */
static const struct catch_map *place_lone(struct work *work, int n, int leave_sts)
{
    uint8_t *cell = arena_alloc(work->arena, (size_t)n + 1, 1);
    struct grid grid = {1, n + 1, cell};
    struct catch_rules rules = {leave_sts, 2, 1, false, false};

    cell[0] = 1;
    return catches_place(work, &grid, &rules);
}

static const char *ordinal(struct work *work, int n)
{
    const char *end = "th";

    if (n / 10 % 10 != 1)
        end = n % 10 == 1 ? "st" : n % 10 == 2 ? "nd" : n % 10 == 3 ? "rd" : "th";
    return arena_printf(work->arena, "%d%s", n, end);
}

static void say_catches(struct work *work, struct text *text, int n, int64_t leave_sts)
{
    int most = leave_sts > FLOAT_MAX ? FLOAT_MAX : (int)leave_sts;
    int fewest = floats_fewest_catches(n, most);
    const struct catch_map *map;
    int said = 0;

    text_addf(text, "At this gauge up to %lld stitch%s left loose.\n", (long long)leave_sts,
              leave_sts == 1 ? " is" : "es are");
    if (fewest == 0) {
        text_add(text, "This float needs no catch.\n");
        return;
    }
    map = place_lone(work, n, most);
    text_addf(text, "Catch it %s, behind the ",
              fewest == 1 ? "once" : fewest == 2 ? "twice"
                                                 : arena_printf(work->arena, "%d times", fewest));
    for (int64_t i = 0; i < map->count; i++) {
        if (map->mark[i].strand != 1)
            continue;
        text_addf(text, "%s%s", said == 0 ? "" : said == fewest - 1 ? " and " : ", ",
                  ordinal(work, map->mark[i].column));
        said++;
    }
    text_add(text, " stitch.\n");
}

enum run_status command_float(const struct arguments *arguments)
{
    struct work *work = &arguments->core->work;
    struct text text = text_create(work->arena);
    struct rational per_in;
    struct rational limit_in =
        rational_make((int64_t)(tables_value(work->tables, "float_limit_in") * 1000.0 + 0.5), 1000);
    const char *limit = arguments->catch_at ? arguments->catch_at : arguments->leave;
    int64_t leave_sts;
    int n;
    enum run_status status = read_gauge(arguments, &per_in);

    if (status != RUN_DONE)
        return status;
    if (!command_read_count(arguments->word[0], UNIT_STITCH, FLOAT_MAX, &n))
        return command_usage("float takes the stitches passed behind, 1 to %d, not %s.", FLOAT_MAX,
                             arguments->word[0]);
    if (arguments->leave && arguments->catch_at)
        return command_usage("give --leave-up-to or --catch-at, not both.");
    if (limit && !command_read_length(limit, &limit_in))
        return command_usage("a float limit is a length with its unit, such as '1 in', not %s.", limit);
    leave_sts = arguments->catch_at ? gauge_catch_at_sts(limit_in, per_in)
                                    : gauge_leave_up_to_sts(limit_in, per_in);
    if (leave_sts < 1)
        return command_usage("that limit leaves not one stitch loose at this gauge: give a longer one.");
    text_addf(&text, "A float behind %d stitch%s is ", n, n == 1 ? "" : "es");
    text_add(&text, say_length(work->arena, n / rational_double(per_in), false));
    text_add(&text, ".\n");
    say_catches(work, &text, n, leave_sts);
    return command_put(arguments, text.bytes, text.length);
}
