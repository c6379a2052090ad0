/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * strandwise resize: a chart redrawn for another gauge. Options alone: sums are the plan's, words the
 * renderers'.
 */
#include <string.h>

#include "command.h"
#include "inside.h"
#include "outfile.h"
#include "app/paper/paper.h"
#include "render/draw/draw.h"
#include "render/draw/redraw.h"

static const int64_t GAUGE_MOST = 30, GAUGE_LEAST = 1; /* to the inch, stitches or rows */
enum { WIDTH_LEAST = 60, WIDTH_MOST = 100 };

struct request {
    struct redraw_asked asked;
    bool json, to_file, picture; /* picture: the chart as a PNG */
    enum form drawing; /* FORM_NONE: nothing is drawn */
};

/* --- the gauge --------------------------------------------------------------------------------- */

static bool gauge_can_be(const struct redraw_asked *asked)
{
    const struct rational both[2] = {asked->per_in, asked->rows_per_in};

    for (int i = 0; i < 2; i++)
        if (!rational_is_value(both[i]) || rational_compare(both[i], rational_whole(GAUGE_LEAST)) < 0 ||
            rational_compare(both[i], rational_whole(GAUGE_MOST)) > 0)
            return false;
    return true;
}

static enum run_status gauge_from_words(const struct arguments *arguments, struct redraw_asked *asked)
{
    struct quantity list[2];
    struct rational over_in;
    size_t fault;
    int n = 0;

    if (!arguments->over || !command_read_length(arguments->over, &over_in))
        return command_usage("--gauge needs the length it is counted over: --over '4 in' or '10 cm'.");
    if (quantity_list_read(arguments->gauge, strlen(arguments->gauge), list, NULL, 2, &n, &fault) !=
            NUMBER_OK ||
        n != 2 || list[0].unit != UNIT_STITCH || list[1].unit != UNIT_ROW)
        return command_usage("--gauge takes stitches and rows, such as '26 sts, 34 rows', not %s.",
                             arguments->gauge);
    asked->has_gauge = true;
    asked->per_in = rational_div(list[0].value, over_in);
    asked->rows_per_in = rational_div(list[1].value, over_in);
    if (!gauge_can_be(asked))
        return command_usage("--gauge %s over %s is no gauge that can be knitted: 1 to 30 stitches and "
                             "rows to the inch (4 to 118 to 10 cm).",
                             arguments->gauge, arguments->over);
    return RUN_DONE;
}

/* "hat and scarf"; "" where there are none. */
static const char *try_names(const struct arguments *arguments)
{
    const struct plan *plan = arguments->core->checked.plan;
    struct text list = text_create(arguments->core->work.arena);

    for (int i = 0; i < plan->ntries; i++)
        text_addf(&list, "%s%s", i == 0 ? "" : i + 1 < plan->ntries ? ", " : " and ", plan->tries[i].name);
    return list.bytes;
}

static enum run_status gauge_from_try(const struct arguments *arguments, struct redraw_asked *asked)
{
    const struct plan *plan = arguments->core->checked.plan;
    const struct gauge *gauge = NULL;

    for (int i = 0; i < plan->ntries; i++)
        if (strcmp(plan->tries[i].name, arguments->try_name) == 0)
            gauge = &plan->tries[i].piece.gauge.gauge;
    if (!gauge && plan->ntries > 0)
        return command_usage("the project has no [try %s]; it has %s.", arguments->try_name,
                             try_names(arguments));
    if (!gauge)
        return command_usage("the project has no [try %s]: write one, or give --gauge and --over.",
                             arguments->try_name);
    asked->has_gauge = true;
    asked->per_in = gauge->stitches.per_in;
    asked->rows_per_in = gauge->rows.per_in;
    if (!gauge_can_be(asked))
        return command_usage("[try %s] needs stitches and rows: give both there, or --gauge and --over.",
                             arguments->try_name);
    return RUN_DONE;
}

/* No gauge and no count was given. */
static enum run_status nothing_asked(const struct arguments *arguments)
{
    const struct plan *plan = arguments->core->checked.plan;
    struct text tries = text_create(arguments->core->work.arena);

    if (plan->ntries == 1)
        text_addf(&tries, ", or --try '%s'", plan->tries[0].name);
    if (plan->ntries > 1)
        text_addf(&tries, ", or --try NAME with one of the project's %s", try_names(arguments));
    return command_usage("give the new gauge: --gauge '26 sts, 34 rows' --over '4 in'%s; or, at the gauge as it is, "
                         "another number of stitches or rows: --columns 14.",
                         tries.bytes);
}

/* --- the rest of the command line -------------------------------------------------------------- */

/* unit: what it counts; it may be left out. */
static enum run_status read_count(const char *option, const char *text, enum unit unit, int *count)
{
    *count = 0;
    if (text && !command_read_count(text, unit, RESIZE_SIDE_MAX, count))
        return command_usage("%s takes a whole number from 1 to %d, not %s.", option, RESIZE_SIDE_MAX, text);
    return RUN_DONE;
}

/* The chart's name may end in what a chart is written as, or in nothing. */
static enum run_status read_chart_name(const struct arguments *arguments, struct request *request)
{
    const char *path = arguments->out_path, *end, *slash;

    request->to_file = command_to_file(arguments);
    if (!request->to_file)
        return RUN_DONE;
    end = strrchr(path, '.');
    slash = strrchr(path, '/');
    request->picture = command_path_ends(path, "png");
    if (end && (!slash || end > slash) && !request->picture && !command_path_ends(path, "chart") &&
        !command_path_ends(path, "txt"))
        return command_usage("-o writes the new chart, which is no %s: name a file that ends in .chart, .txt or "
                             ".png%s.",
                             end,
                             command_path_ends(path, "svg") || command_path_ends(path, "pdf")
                                 ? " (--draw draws old beside new)"
                             : command_path_ends(path, "json") ? " (--as json prints the rest)"
                                                               : "");
    return RUN_DONE;
}

static enum run_status read_drawing(const struct arguments *arguments, struct request *request)
{
    request->drawing = command_form(NULL, arguments->draw, "svg pdf png", FORM_NONE);
    if (arguments->draw && request->drawing == FORM_NONE)
        return command_usage("--draw draws old beside new: name a file that ends in .svg, .pdf or .png, not %s.",
                             arguments->draw);
    if (arguments->draw && request->to_file && strcmp(arguments->draw, arguments->out_path) == 0)
        return command_usage("-o and --draw name one file: the chart and the drawing of both need one each.");
    return RUN_DONE;
}

static enum run_status read_outputs(const struct arguments *arguments, struct request *request)
{
    enum run_status status = read_chart_name(arguments, request);

    if (status == RUN_DONE)
        status = read_drawing(arguments, request);
    request->json = arguments->as && strcmp(arguments->as, "json") == 0;
    if (status == RUN_DONE && arguments->as && !request->json && strcmp(arguments->as, "text") != 0)
        status = command_usage("--as takes text or json, not %s. --draw FILE.svg draws old beside new.", arguments->as);
    if (status == RUN_DONE && request->json && arguments->out_path && !request->to_file)
        status = command_usage("the chart (-o -) and --as json cannot both go to the screen: leave one out.");
    return status;
}

static enum run_status read_request(const struct arguments *arguments, struct request *request)
{
    struct redraw_asked *asked = &request->asked;
    enum run_status status = read_count("--columns", arguments->columns, UNIT_STITCH, &asked->ncols);

    if (status == RUN_DONE)
        status = read_count("--rows", arguments->rows, UNIT_ROW, &asked->nrows);
    if (status == RUN_DONE)
        status = read_outputs(arguments, request);
    if (status != RUN_DONE)
        return status;
    if (arguments->gauge && arguments->try_name)
        return command_usage("give --gauge or --try, not both.");
    if (arguments->over && !arguments->gauge)
        return command_usage("--over is the length of --gauge: give that too, such as --gauge '26 sts, 34 rows'.");
    asked->has_around = arguments->around != NULL;
    if (arguments->around && !command_read_length(arguments->around, &asked->around_in))
        return command_usage("--around takes a length with its unit, such as '10 1/2 in', not %s.",
                             arguments->around);
    return arguments->gauge ? gauge_from_words(arguments, asked) : RUN_DONE;
}

/* --- what is written ---------------------------------------------------------------------------- */

static enum run_status make_chart(const struct arguments *arguments, const struct request *request,
                                  struct text *out)
{
    struct work *work = &arguments->core->work;
    const struct plan *plan = arguments->core->checked.plan;
    const struct plan_redraw *redraw = arguments->core->redraw;
    const struct grid *drawn = &redraw->band->drawn;

    if (!request->picture) {
        redraw_write_chart(plan, redraw, out);
        return RUN_DONE;
    }
    if (redraw->picture_why)
        return command_usage("the chart cannot be a picture: %s. Name a file that ends in .chart or .txt.",
                             redraw->picture_why);
    if (paper_write_dots(work, redraw_dots(work, plan, redraw), drawn->ncols, drawn->nrows, out) != 0) {
        sheet_refuse(work, "The picture could not be written: there is not enough memory.", NULL);
        return RUN_FILE;
    }
    return RUN_DONE;
}

/* What is said of it, with what was written. */
static enum run_status put_words(const struct arguments *arguments, const struct request *request)
{
    int width = arguments->window_columns > 0 ? arguments->window_columns : 80;
    const struct strandwise_wish wish = {.output = request->json ? OUTPUT_REDRAW_JSON : OUTPUT_REDRAW,
                                         .width = width > WIDTH_MOST    ? WIDTH_MOST
                                                  : width < WIDTH_LEAST ? WIDTH_LEAST
                                                                        : width};
    struct work *work = &arguments->core->work;
    struct text words = text_create(work->arena);
    struct strandwise_bytes made;
    enum run_status status = strandwise_make(arguments->core, &wish, &made);

    if (status != RUN_DONE)
        return status;
    text_add_bytes(&words, made.bytes, made.nbytes);
    if (request->to_file && !request->json)
        text_addf(&words, "\nWrote %s\n", arguments->out_path);
    if (arguments->draw && !request->json)
        text_addf(&words, "%sDrew %s\n", request->to_file ? "" : "\n", arguments->draw);
    return outfile_write_stdout(work, words.bytes, words.length) == 0 ? RUN_DONE : RUN_FILE;
}

/* All of it is made before the first is written. */
static enum run_status put_out(const struct arguments *arguments, const struct request *request)
{
    struct work *work = &arguments->core->work;
    struct text chart = text_create(work->arena), drawing = text_create(work->arena);
    enum run_status status = make_chart(arguments, request, &chart);

    if (status == RUN_DONE && request->drawing != FORM_NONE)
        status = command_sheets(arguments, (struct strandwise_wish){.output = OUTPUT_REDRAW_DRAWING},
                                request->drawing, &drawing);
    if (status != RUN_DONE)
        return status;
    if (request->to_file &&
        outfile_write(work, arguments->out_path, chart.bytes, chart.length,
                      arguments->replace ? OUTFILE_REPLACE : OUTFILE_ASK) != 0)
        return RUN_FILE;
    if (arguments->draw && outfile_write(work, arguments->draw, drawing.bytes, drawing.length, OUTFILE_REPLACE) != 0)
        return RUN_FILE;
    if (arguments->out_path && !request->to_file)
        return outfile_write_stdout(work, chart.bytes, chart.length) == 0 ? RUN_DONE : RUN_FILE;
    return put_words(arguments, request);
}

enum run_status command_resize(const struct arguments *arguments)
{
    struct request request = {.json = false};
    enum run_status status = read_request(arguments, &request);

    if (status == RUN_DONE)
        status = strandwise_plan(arguments->core, arguments->word[0]);
    if (status == RUN_DONE && !arguments->gauge && !arguments->try_name && !arguments->columns && !arguments->rows)
        status = nothing_asked(arguments);
    if (status != RUN_DONE)
        return status;
    request.asked.band = strandwise_band(arguments->core, arguments->band);
    if (request.asked.band < 0)
        return command_told(arguments, RUN_USAGE);
    if (arguments->try_name)
        status = gauge_from_try(arguments, &request.asked);
    if (status == RUN_DONE)
        status = command_told(arguments, strandwise_redraw_as(arguments->core, &request.asked));
    return status == RUN_DONE ? put_out(arguments, &request) : status;
}
