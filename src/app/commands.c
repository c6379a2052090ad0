/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The commands that put out what the core makes of a project; the starter, and the tables.
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
#include "base/tables.h"
#include "inside.h"
#include "outfile.h"
#include "app/paper/paper.h"
#include "render/draw/draw.h"
#include "starter.h"

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

bool command_to_file(const struct arguments *arguments)
{
    return arguments->out_path && strcmp(arguments->out_path, "-") != 0;
}

bool command_refuses_screen(const struct arguments *arguments, const char *what)
{
    if (command_to_file(arguments) || !isatty(STDOUT_FILENO))
        return false;
    command_usage("a %s is not for reading on the screen: name a file with -o.", what);
    return true;
}

enum run_status command_put(const struct arguments *arguments, const char *bytes, size_t nbytes)
{
    struct work *work = &arguments->core->work;
    int status = command_to_file(arguments)
                     ? outfile_write(work, arguments->out_path, bytes, nbytes, OUTFILE_REPLACE)
                     : outfile_write_stdout(work, bytes, nbytes);

    return status == 0 ? RUN_DONE : RUN_FILE;
}

enum run_status command_told(const struct arguments *arguments, enum run_status status)
{
    return status == RUN_USAGE ? command_usage("%s", strandwise_why(arguments->core)) : status;
}

enum run_status command_make(const struct arguments *arguments, const struct strandwise_wish *wish)
{
    struct strandwise_bytes made;
    enum run_status status = command_told(arguments, strandwise_make(arguments->core, wish, &made));

    return status == RUN_DONE ? command_put(arguments, made.bytes, made.nbytes) : status;
}

enum run_status command_sheets(const struct arguments *arguments, struct strandwise_wish wish, enum form form,
                               struct text *out)
{
    struct work *work = &arguments->core->work;
    struct sheets sheets;
    enum run_status status;

    wish.for_paper = form == FORM_PDF;
    status = command_told(arguments, strandwise_sheets(arguments->core, &wish, &sheets));
    if (status != RUN_DONE)
        return status;
    if (form == FORM_PDF)
        return paper_write_pdf(work, &sheets, out) == 0 ? RUN_DONE : RUN_FILE;
    if (form == FORM_PNG)
        return paper_write_png(draw_stack(work, sheets.sheet, sheets.count), out) == 0 ? RUN_DONE : RUN_FILE;
    sheet_write_svg(draw_stack(work, sheets.sheet, sheets.count), out);
    return RUN_DONE;
}

enum run_status command_put_sheets(const struct arguments *arguments, struct strandwise_wish wish, enum form form)
{
    struct text text = text_create(arguments->core->work.arena);
    enum run_status status = command_sheets(arguments, wish, form, &text);

    return status == RUN_DONE ? command_put(arguments, text.bytes, text.length) : status;
}

/* Pages to print. */
static enum run_status print(const struct arguments *arguments, enum strandwise_output output)
{
    return command_put_sheets(arguments, (struct strandwise_wish){.output = output, .band = arguments->band},
                              FORM_PDF);
}

/* In colour where it goes to a terminal. */
static enum run_status say(const struct arguments *arguments, enum strandwise_output output)
{
    return command_make(arguments, &(struct strandwise_wish){
                                       .output = output,
                                       .colour = arguments->colour_out && !arguments->out_path,
                                   });
}

bool command_read_quantity(const char *text, struct quantity *quantity)
{
    size_t fault;

    return quantity_read(text, strlen(text), quantity, &fault) == NUMBER_OK;
}

bool command_read_count(const char *text, enum unit unit, int most, int *count)
{
    struct quantity quantity;

    if (!command_read_quantity(text, &quantity) || (quantity.unit != UNIT_NONE && quantity.unit != unit) ||
        quantity.value.den != 1 || quantity.value.num < 1 || quantity.value.num > most)
        return false;
    *count = (int)quantity.value.num;
    return true;
}

bool command_read_length(const char *text, struct rational *inches)
{
    struct quantity quantity;

    if (!command_read_quantity(text, &quantity) || quantity.unit == UNIT_NONE)
        return false;
    *inches = quantity_inches(quantity, UNIT_INCH);
    return rational_is_value(*inches) && rational_sign(*inches) > 0 &&
           rational_compare(*inches, rational_whole(10000)) <= 0;
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

bool command_refuses_name(const struct arguments *arguments, const char *what, const char *endings)
{
    static const char *const known[] = {"txt", "json", "pdf", "svg", "png", "jpg", "jpeg", "gif",
                                        "html", "doc", "docx", "odt", "csv", "xls", "xlsx"};

    for (size_t i = 0; !arguments->as && arguments->out_path && i < sizeof known / sizeof known[0]; i++)
        if (command_path_ends(arguments->out_path, known[i]) && !strstr(endings, known[i])) {
            command_usage("%s is not written as .%s: name a file that ends in %s.", what, known[i],
                          endings);
            return true;
        }
    return false;
}

enum form command_form(const char *as, const char *path, const char *allowed, enum form otherwise)
{
    static const char *const words[] = {"", "text", "json", "svg", "pdf", "png"};

    for (int i = FORM_TEXT; i <= FORM_PNG; i++)
        if (strstr(allowed, words[i]) &&
            (as ? strcmp(as, words[i]) == 0
                : path && command_path_ends(path, i == FORM_TEXT ? "txt" : words[i])))
            return (enum form)i;
    return as ? FORM_NONE : otherwise;
}

static enum form plan_form(const struct arguments *arguments)
{
    return command_form(arguments->as, arguments->out_path, "text json pdf", FORM_TEXT);
}

bool command_plan_says_notes(const struct arguments *arguments)
{
    return plan_form(arguments) != FORM_JSON;
}

enum run_status command_plan(const struct arguments *arguments)
{
    enum form form = plan_form(arguments);
    enum run_status status;

    if (form == FORM_NONE)
        return command_usage("--as takes text, json or pdf, not %s.", arguments->as);
    if (command_refuses_name(arguments, "a plan", "txt, json or pdf"))
        return RUN_USAGE;
    if (form == FORM_PDF && command_refuses_screen(arguments, "PDF"))
        return RUN_USAGE;
    status = strandwise_plan(arguments->core, arguments->word[0]);
    if (status != RUN_DONE)
        return status;
    return form == FORM_PDF ? print(arguments, OUTPUT_PAGES)
                            : say(arguments, form == FORM_JSON ? OUTPUT_JSON : OUTPUT_PLAN);
}

enum run_status command_directions(const struct arguments *arguments)
{
    enum run_status status;

    if (command_refuses_name(arguments, "a page of words", "txt"))
        return RUN_USAGE;
    status = strandwise_plan(arguments->core, arguments->word[0]);
    return status == RUN_DONE ? say(arguments, OUTPUT_DIRECTIONS) : status;
}

enum run_status command_check(const struct arguments *arguments)
{
    enum run_status status = strandwise_plan(arguments->core, arguments->word[0]);

    return status == RUN_DONE ? say(arguments, OUTPUT_CHECK) : status;
}

enum run_status command_ladder(const struct arguments *arguments)
{
    enum form form = command_form(arguments->as, arguments->out_path, "text json", FORM_TEXT);
    enum run_status status;

    if (form == FORM_NONE)
        return command_usage("--as takes text or json here, not %s.", arguments->as);
    if (command_refuses_name(arguments, "a ladder", "txt or json"))
        return RUN_USAGE;
    status = strandwise_ladder(arguments->core, arguments->word[0]);
    return status == RUN_DONE ? say(arguments, form == FORM_JSON ? OUTPUT_JSON : OUTPUT_LADDER) : status;
}

enum run_status command_lesson(const struct arguments *arguments)
{
    enum run_status status;

    if (command_refuses_name(arguments, "a lesson", "pdf") || command_refuses_screen(arguments, "PDF"))
        return RUN_USAGE;
    status = strandwise_plan(arguments->core, arguments->word[0]);
    return status == RUN_DONE ? print(arguments, OUTPUT_LESSON) : status;
}

/* --- start ----------------------------------------------------------------------------- */

enum run_status command_start(const struct arguments *arguments)
{
    struct work *work = &arguments->core->work;
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
    return command_put(arguments, text.bytes, text.length);
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

static enum run_status check_tables(const struct arguments *arguments)
{
    struct work *work = &arguments->core->work;
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
    if (command_put(arguments, text.bytes, text.length) != RUN_DONE)
        return RUN_FILE;
    return faults > 0 ? RUN_MEND : RUN_DONE;
}

enum run_status command_tables(const struct arguments *arguments)
{
    struct work *work = &arguments->core->work;
    struct text text = text_create(work->arena);
    const struct table *table =
        arguments->nwords > 0 ? tables_find(work->tables, arguments->word[0]) : NULL;

    if (arguments->nwords > 0 && !table)
        return command_usage("no table is called %s; strandwise tables lists them.",
                             arguments->word[0]);
    if (arguments->check)
        return check_tables(arguments);
    if (table)
        text_add(&text, table->text);
    else
        list_tables(work->tables, &text);
    return command_put(arguments, text.bytes, text.length);
}
