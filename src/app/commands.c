/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The command table, and the commands that work on a project.
 */
#include "command.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/arena.h"
#include "base/diag.h"
#include "base/outfile.h"
#include "base/tables.h"
#include "base/text.h"
#include "render/paper/pages.h"
#include "render/report/proof.h"
#include "render/render.h"
#include "starter.h"

const struct command commands[] = {
    {"plan", "PROJECT [--as text|json|pdf] [-o FILE] [--table FILE]...",
     "the whole plan: counts, shaping, floats and catches, yarn, words", "--as -o --table", 1, 1,
     command_plan,
     "PROJECT is a project file (- reads it from standard input).\n"
     "--as json prints the same plan for other programs (docs/plan.schema.json).\n"
     "--as pdf, or a FILE that ends in .pdf: A4 pages to print, the first of them for the bag.\n"
     "--table FILE uses your own copy of a table (see: strandwise tables).\n"},
    {"directions", "PROJECT [-o FILE] [--table FILE]...", "only the words for each round or row",
     "-o --table", 1, 1, command_directions, ""},
    {"draw",
     "PROJECT [--band NAME] [--show chart|changes|dents] [--side right|wrong] "
     "[--as text|svg|pdf|png] "
     "[--cell MM] [-o FILE]",
     "the charts with every catch, in the window or drawn to true proportion",
     "--band --show --side --as --cell -o --table", 1, 1, command_draw,
     "All bands in the order of knitting, or the one named with --band.\n"
     "--show changes marks the stitches that would save catches in another yarn.\n"
     "--show dents maps where catches fall so close together that the fabric may dent.\n"
     "--side wrong shows the strands as they lie inside, and where they are tied in.\n"
     "Without more, in characters: a yarn's mark for each stitch, behind it that of a strand caught.\n"
     "-o FILE ending in .svg (for browsers and drawing programs), .pdf (A4 pages), .png or .txt\n"
     "says the form, and so does --as.\n"
     "--cell 5 makes each stitch 5 mm wide, --cell true as wide as it is knitted.\n"},
    {"lesson", "PROJECT [--band NAME] [-o FILE] [--table FILE]...",
     "a sheet for a class: find the long floats and catch them, with the answers",
     "--band -o --table", 1, 1, command_lesson,
     "A PDF on A4: the chart without catches and what to find in it; then the answers; then the\n"
     "wrong side. All bands, or the one named with --band.\n"},
    {"ladder", "PROJECT [--as text|json] [-o FILE] [--table FILE]...",
     "the same chart at one gauge after another, from fine to heavy yarn",
     "--as -o --table", 1, 1, command_ladder,
     "The gauges of the section [ladder], or the middle of each yarn weight. PROJECT need not have\n"
     "a swatch.\n"},
    {"check", "PROJECT [--table FILE]...", "judge a project and proof-read its charts", "--table", 1, 1,
     command_check,
     "Of every chart: the symmetries it keeps or just misses, whether the repeat meets itself, stray\n"
     "stitches, stitches left out of a seeding, rows of three colours, shades too close in lightness.\n"},
    {"start", "[FOLDER]", "write a starter project and its chart, to change into your own", "", 0, 1,
     command_start, "Nothing that is there already is written over.\n"},
    {"spread", "FROM to TO [--flat]", "increases or decreases spread evenly, as a line to knit from",
     "--flat", 2, 3, command_spread, "Example: strandwise spread 72 to 84\n"},
    {"fit", "REPEAT --measure LENGTH --stitches COUNT --over LENGTH [--flat]",
     "how a repeat meets a measure, and the ways round it", "--measure --stitches --over --flat", 1, 1,
     command_fit,
     "Example: strandwise fit 12 --measure '10 1/4 in' --stitches 32 --over '4 in'\n"},
    {"float", "STITCHES --stitches COUNT --over LENGTH [--leave-up-to LENGTH | --catch-at LENGTH]",
     "how long a float is, and where to catch it",
     "--stitches --over --leave-up-to --catch-at", 1, 1, command_float,
     "Example: strandwise float 9 --stitches 32 --over '4 in'\n"},
    {"resize",
     "PROJECT [--band NAME] [--gauge 'STITCHES sts, ROWS rows' --over LENGTH | --try NAME] "
     "[--columns COUNT] [--rows COUNT] [--around LENGTH] [--as text|json] [--draw FILE] [-o FILE] "
     "[--replace] [--table FILE]...",
     "a chart redrawn for another gauge at the same finished size",
     "--band --gauge --over --try --columns --rows --around --as --draw -o --replace --table", 1, 1, command_resize,
     "The new gauge: --gauge '26 sts, 34 rows' --over '4 in', or that of [try NAME] with --try NAME;\n"
     "if neither is given the gauge as it is, with another number of stitches or rows.\n"
     "--columns and --rows say how many stitches and rows the new repeat is to have; else those\n"
     "nearest its true size that keep every symmetry and fit the piece (--around another one).\n"
     "Old and new are shown, with what becomes of floats and catches; --as json prints the same for\n"
     "other programs (docs/redraw.schema.json). --draw FILE draws both beside each other at one\n"
     "finished size (.svg, .pdf or .png).\n"
     "-o FILE writes the new chart (.chart, .txt, or .png with one dot a stitch), and --replace lets\n"
     "it write over one.\n"},
    {"tables", "[NAME] [--check] [--table FILE]...", "the tables the numbers stand on",
     "--check --table", 0, 1, command_tables,
     "NAME prints one table; --check looks through it, or through all, your own copies included.\n"},
    {NULL, NULL, NULL, NULL, 0, 0, NULL, NULL},
};

enum run_status command_usage(const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    fputs("strandwise: ", stderr);
    vfprintf(stderr, format, arguments);
    fputs("\n", stderr);
    va_end(arguments);
    return RUN_USAGE;
}

bool command_refuses_pdf(const struct arguments *arguments)
{
    bool to_file = arguments->out_path && strcmp(arguments->out_path, "-") != 0;

    if (to_file || !isatty(STDOUT_FILENO))
        return false;
    command_usage("a PDF is not for reading on the screen: name a file with -o.");
    return true;
}

enum run_status command_put(struct work *work, const struct arguments *arguments,
                            const struct text *text)
{
    bool to_file = arguments->out_path && strcmp(arguments->out_path, "-") != 0;
    int status = to_file ? outfile_write(work, arguments->out_path, text->bytes, text->length, OUTFILE_REPLACE)
                         : outfile_write_stdout(work, text->bytes, text->length);

    return status == 0 ? RUN_DONE : RUN_FILE;
}

static struct words_style style_of(const struct arguments *arguments)
{
    struct words_style style = {.width = 80,
                                 .colour = arguments->colour_out && !arguments->out_path};

    return style;
}

static bool same_letters(const char *name, const char *small)
{
    for (; *name && *small; name++, small++)
        if ((*name | 0x20) != *small)
            return false;
    return *name == *small;
}

bool command_path_ends(const char *path, const char *ending)
{
    const char *end = strrchr(path, '.');

    return end && same_letters(end + 1, ending);
}

bool command_name_ends(const struct arguments *arguments, const char *ending)
{
    return arguments->out_path && command_path_ends(arguments->out_path, ending);
}

bool command_refuses_name(const struct arguments *arguments, const char *what, const char *endings)
{
    static const char *const known[] = {"txt", "json", "pdf", "svg", "png", "jpg", "jpeg", "gif",
                                        "html", "doc", "docx", "odt", "csv", "xls", "xlsx"};

    for (size_t i = 0; !arguments->as && i < sizeof known / sizeof known[0]; i++)
        if (command_name_ends(arguments, known[i]) && !strstr(endings, known[i])) {
            command_usage("%s is not written as .%s: name a file that ends in %s.", what, known[i],
                          endings);
            return true;
        }
    return false;
}

enum plan_form { PLAN_TEXT, PLAN_JSON, PLAN_PDF };

/* By its word, or as the file's name ends. */
static bool read_plan_form(const struct arguments *arguments, enum plan_form *form)
{
    static const char *const names[] = {"text", "json", "pdf"};

    *form = PLAN_TEXT;
    for (int i = PLAN_JSON; !arguments->as && i <= PLAN_PDF; i++)
        if (command_name_ends(arguments, names[i]))
            *form = (enum plan_form)i;
    for (int i = 0; arguments->as && i < 3; i++)
        if (strcmp(arguments->as, names[i]) == 0) {
            *form = (enum plan_form)i;
            return true;
        }
    return !arguments->as;
}

enum run_status command_plan(struct work *work, const struct arguments *arguments)
{
    enum plan_form form;
    const struct plan *plan = NULL;
    struct words_style style = style_of(arguments);
    struct text text = text_create(work->arena);
    enum run_status status;

    if (!read_plan_form(arguments, &form))
        return command_usage("--as takes text, json or pdf, not %s.", arguments->as);
    if (command_refuses_name(arguments, "a plan", "txt, json or pdf"))
        return RUN_USAGE;
    if (form == PLAN_PDF && command_refuses_pdf(arguments))
        return RUN_USAGE;
    status = run_plan(work, arguments->word[0], &plan);
    if (status != RUN_DONE)
        return status;
    if (form == PLAN_JSON)
        render_json(plan, &text);
    else if (form == PLAN_TEXT)
        render_report(work, plan, &style, &text);
    else if (pages_plan(work, plan, &text) != 0)
        return RUN_FILE;
    return command_put(work, arguments, &text);
}

enum run_status command_directions(struct work *work, const struct arguments *arguments)
{
    const struct plan *plan = NULL;
    struct words_style style = style_of(arguments);
    struct text text = text_create(work->arena);
    enum run_status status;

    if (command_refuses_name(arguments, "a page of words", "txt"))
        return RUN_USAGE;
    status = run_plan(work, arguments->word[0], &plan);
    if (status != RUN_DONE)
        return status;
    render_directions(work, plan, &style, &text);
    return command_put(work, arguments, &text);
}

enum run_status command_check(struct work *work, const struct arguments *arguments)
{
    struct text text = text_create(work->arena);
    struct words_style style = style_of(arguments);
    struct run_checked checked;
    enum run_status status = run_check(work, arguments->word[0], &checked);

    if (status != RUN_DONE)
        return status;
    render_proofreading(work, checked.plan, checked.project, checked.read, &style, &text);
    text_add(&text, diagnostics_count(work->diagnostics, DIAG_CAUTION) > 0
                        ? "Nothing to mend; the cautions are worth a look.\n"
                    : diagnostics_count(work->diagnostics, DIAG_NOTE) > 0
                        ? "Nothing that must be mended; the notes are worth a look.\n"
                        : "Nothing to mend.\n");
    return command_put(work, arguments, &text);
}

/* --- start ----------------------------------------------------------------------------- */

enum run_status command_start(struct work *work, const struct arguments *arguments)
{
    const char *folder = arguments->nwords > 0 ? arguments->word[0] : ".";
    struct text text = text_create(work->arena);
    struct place nowhere = {0};
    struct stat found;

    if (mkdir(folder, 0777) != 0 && errno != EEXIST) {
        diag_add(work->diagnostics, DIAG_FILE_WRITE, nowhere,
                 arena_printf(work->arena, "The folder %s cannot be made (%s).", folder,
                              strerror(errno)),
                 "Name a folder in a place where you may write.");
        return RUN_FILE;
    }
    for (int i = 0; i < STARTER_FILES; i++) { /* both free, before either is written */
        char *path = arena_printf(work->arena, "%s/%s", folder, starter_files[i].name);

        if (stat(path, &found) == 0)
            diag_add(work->diagnostics, DIAG_FILE_WRITE, nowhere,
                     arena_printf(work->arena, "%s is there already.", path),
                     "Name another folder, or move the file away; nothing was written over.");
    }
    if (diagnostics_fatal(work->diagnostics))
        return RUN_FILE;
    for (int i = 0; i < STARTER_FILES; i++) {
        char *path = arena_printf(work->arena, "%s/%s", folder, starter_files[i].name);

        if (outfile_write(work, path, starter_files[i].text, strlen(starter_files[i].text), OUTFILE_KEEP) != 0)
            return RUN_FILE;
        text_addf(&text, "Wrote %s\n", path);
    }
    text_addf(&text, "Next: strandwise plan %s/%s\n", folder, starter_files[0].name);
    return command_put(work, arguments, &text);
}

/* --- tables ---------------------------------------------------------------------------- */

static void list_tables(const struct tables *tables, struct text *text)
{
    for (int i = 0; i < tables_count(tables); i++) {
        const struct table *table = tables_at(tables, i);

        text_addf(text, "%-14s %4d rows, %s\n", table->name, table->nrows, table->origin);
    }
    text_add(text, "\nstrandwise tables NAME prints one, with its sources. To use your own: save it, "
                   "change it,\nand name your copy with --table.\n");
}

static enum run_status check_tables(struct work *work, const struct arguments *arguments)
{
    struct text text = text_create(work->arena);
    int looked = 0, faults = 0;

    for (int i = 0; i < tables_count(work->tables); i++) {
        const struct table *table = tables_at(work->tables, i);

        if (arguments->nwords > 0 && strcmp(table->name, arguments->word[0]) != 0)
            continue;
        looked++;
        faults += tables_check(work, table);
    }
    text_addf(&text, "%d table%s looked through, %d faults.\n", looked, looked == 1 ? "" : "s", faults);
    if (command_put(work, arguments, &text) != RUN_DONE)
        return RUN_FILE;
    return faults > 0 ? RUN_MEND : RUN_DONE;
}

enum run_status command_tables(struct work *work, const struct arguments *arguments)
{
    struct text text = text_create(work->arena);
    const struct table *table =
        arguments->nwords > 0 ? tables_find(work->tables, arguments->word[0]) : NULL;

    if (arguments->nwords > 0 && !table)
        return command_usage("no table is called %s; strandwise tables lists them.",
                             arguments->word[0]);
    if (arguments->check)
        return check_tables(work, arguments);
    if (table)
        text_add(&text, table->text);
    else
        list_tables(work->tables, &text);
    return command_put(work, arguments, &text);
}
