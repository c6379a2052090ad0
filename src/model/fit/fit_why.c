/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Why a way round is not among those that are offered.
 */
#include <inttypes.h>
#include <math.h>

#include "base/text.h"
#include "base/work.h"
#include "fit.h"

/* " it comes no nearer 68.89 stitches than whole repeats do, on 72 or 60" */
static void add_no_nearer(struct text *text, const struct fit_case *facts)
{
    text_add(text, " it comes no nearer ");
    text_stitches(text, facts->question->target_sts);
    text_addf(text, " stitches than whole repeats do, on %" PRId64, facts->above);
    if (facts->below > 0)
        text_addf(text, " or %" PRId64, facts->below);
}

static void say_columns(struct text *text, const struct fit_case *facts, bool twice)
{
    if (facts->column_stands[twice])
        text_addf(text, "no column, or pair of columns, can be %s so that the chart still mirrors and its "
                        "sides still join",
                  twice ? "worked twice" : "left out");
    else if (!twice && facts->question->repeat_sts < 4)
        text_add(text, "the motif is too narrow to leave a column out");
    else {
        text_addf(text, "with one column or two %s in each repeat", twice ? "worked twice" : "left out");
        add_no_nearer(text, facts);
    }
}

static void say_over(struct text *text, const struct fit_case *facts)
{
    if (facts->body_sts < facts->question->side_sts + (int64_t)facts->question->repeat_sts)
        text_add(text, "not one whole repeat goes into the measure");
    else if (facts->question->nshared > 0)
        text_add(text, "no count nearer than whole repeats goes into the bands that share it");
    else if (facts->body_sts > GRID_SIDE_MAX)
        text_addf(text, "the whole round would be one chart of %" PRId64 " stitches, wider than a chart "
                        "may be", facts->body_sts);
    else
        text_addf(text, "with the %" PRId64 " stitches beside it nothing is over", facts->body_sts);
}

/* How far the nearest whole repeats would have to move the gauge. */
static void say_gauge(struct text *text, const struct fit_case *facts)
{
    double target = rational_double(facts->question->target_sts);
    double above = (double)facts->above / target - 1.0, below = 1.0 - (double)facts->below / target;
    double least = facts->below > 0 && below < above ? below : above;

    text_add(text, "another needle moves a gauge by ");
    text_decimal(text, facts->question->gauge_reach * 100.0, 1);
    text_add(text, " % at the most, and whole repeats ask for ");
    text_decimal(text, least * 100.0, 1);
    text_add(text, " %");
}

static void say_redraw(struct text *text, const struct fit_case *facts)
{
    int own = facts->question->repeat_sts, most = (int)(facts->question->redraw_ratio * own);

    if (most < 1) {
        text_addf(text, "a motif of %d stitches is too narrow to be drawn a little wider or narrower", own);
        return;
    }
    text_addf(text, "drawn %d to %d columns wide, beyond which it would be another motif, it comes within ",
              own - most, own + most);
    text_decimal(text, facts->question->near_ratio * 100.0, 1);
    text_add(text, " % of the measure at no width");
}

static void say_shape(struct text *text, const struct fit_case *facts)
{
    if (facts->question->nshared > 0)
        text_add(text, "a band above takes its count, and shaping would part them");
    else if (facts->question->shaped_already)
        text_add(text, "the parts beside it have counts of their own, and it is shaped from and to them "
                       "as it is");
    else
        text_add(text, "there is nothing beside it to shape from and back to");
}

const char *fit_why_not(struct work *work, const struct fit_case *facts, enum fit_kind kind, bool twice)
{
    struct text text = text_create(work->arena);

    switch (kind) {
    case FIT_SHAPE:
        say_shape(&text, facts);
        break;
    case FIT_PLAIN_COLUMNS:
        if (rational_floor(facts->question->target_sts) <
            facts->question->side_sts + (int64_t)facts->question->repeat_sts) {
            text_add(&text, "not one whole repeat goes into the measure");
            break;
        }
        text_add(&text, "with plain stitches between as many motifs as go in, or one fewer,");
        add_no_nearer(&text, facts);
        break;
    case FIT_TRIM_OR_PAD:
        say_columns(&text, facts, twice);
        break;
    case FIT_PART_REPEATS:
        say_over(&text, facts);
        break;
    case FIT_ANOTHER_GAUGE:
        say_gauge(&text, facts);
        break;
    case FIT_REDRAW:
        say_redraw(&text, facts);
        break;
    case FIT_ANOTHER_COUNT:
    case FIT_KIND_COUNT:
        text_add(&text, "there is no other count that suits");
        break;
    }
    return text.bytes;
}
