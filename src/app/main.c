/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The command line: read it, set up the run, print the messages, say how it went.
 */
#include <cairo.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_version.h>
#include <png.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "base/arena.h"
#include "base/diag.h"
#include "base/number.h"
#include "base/tables.h"
#include "command.h"

static const size_t MEMORY_MAX =
    SIZE_MAX / 2 < (uint64_t)8 << 30 ? SIZE_MAX / 2 : (size_t)((uint64_t)8 << 30);

static void print_version(void)
{
    printf("strandwise %s\n"
           "GSL %s, libpng %s, cairo %s, iniparser 4\n"
           "Licence GPL-3.0-or-later. No warranty: the swatch decides.\n",
           STRANDWISE_VERSION, GSL_VERSION, png_get_libpng_ver(NULL), cairo_version_string());
}

/* The usage of a command, broken before column 80. */
static void print_usage(const struct command *command)
{
    const char *word = command->usage;
    int column = printf("  strandwise %s", command->name);

    while (*word) { /* words; what stands in brackets stays together */
        int depth = 0, n = 0;

        for (; word[n] && (depth > 0 || word[n] != ' '); n++)
            depth += word[n] == '[' ? 1 : word[n] == ']' ? -1 : 0;
        if (column + 1 + n > 79)
            column = printf("\n     ") - 1;
        column += printf(" %.*s", n, word);
        word += n + (word[n] == ' ');
    }
    printf("\n      %s\n", command->summary);
}

static void print_help(void)
{
    fputs("strandwise: the whole plan for stranded colourwork, before you cast on.\n"
          "From a chart, a swatch and finished measures:\n"
          "read -> check -> model -> plan -> render.\n"
          "\n",
          stdout);
    for (const struct command *c = commands; c->name; c++)
        print_usage(c);
    fputs("\n"
          "  strandwise COMMAND --help says more; --version says which one this is.\n"
          "  Results go to standard output, messages to standard error. NO_COLOR set: no\n"
          "  colours.\n"
          "  Ends with 0 done, 1 the project needs mending, 2 wrong command line,\n"
          "  3 a file could not be read or written.\n",
          stdout);
}

static const struct command *find_command(const char *name)
{
    const char *names[16];
    int n = 0;
    const char *nearest;

    for (const struct command *c = commands; c->name; c++) {
        if (strcmp(c->name, name) == 0)
            return c;
        names[n++] = c->name;
    }
    nearest = text_nearest(name, names, n);
    if (nearest)
        command_usage("there is no command %s. Did you mean %s?", name, nearest);
    else
        command_usage("there is no command %s. strandwise --help lists them.", name);
    return NULL;
}

/* Does this command take that option? Its list holds whole words set off by blanks. */
static bool takes(const struct command *command, const char *option)
{
    size_t length = strlen(option);

    for (const char *at = command->options; (at = strstr(at, option)) != NULL; at += length)
        if ((at == command->options || at[-1] == ' ') && (at[length] == ' ' || at[length] == '\0'))
            return true;
    return false;
}

static const char **resize_slot(struct arguments *arguments, const char *option)
{
    if (strcmp(option, "--gauge") == 0)
        return &arguments->gauge;
    if (strcmp(option, "--try") == 0)
        return &arguments->try_name;
    if (strcmp(option, "--columns") == 0)
        return &arguments->columns;
    if (strcmp(option, "--rows") == 0)
        return &arguments->rows;
    if (strcmp(option, "--around") == 0)
        return &arguments->around;
    if (strcmp(option, "--draw") == 0)
        return &arguments->draw;
    return NULL;
}

/* Where the value of a long option goes; NULL: it takes none. */
static const char **value_slot(struct arguments *arguments, const char *option)
{
    if (strcmp(option, "--as") == 0)
        return &arguments->as;
    if (strcmp(option, "-o") == 0)
        return &arguments->out_path;
    if (strcmp(option, "--stitches") == 0)
        return &arguments->stitches;
    if (strcmp(option, "--over") == 0)
        return &arguments->over;
    if (strcmp(option, "--measure") == 0)
        return &arguments->measure;
    if (strcmp(option, "--leave-up-to") == 0)
        return &arguments->leave;
    if (strcmp(option, "--catch-at") == 0)
        return &arguments->catch_at;
    if (strcmp(option, "--band") == 0)
        return &arguments->band;
    if (strcmp(option, "--side") == 0)
        return &arguments->side;
    if (strcmp(option, "--cell") == 0)
        return &arguments->cell;
    if (strcmp(option, "--show") == 0)
        return &arguments->show;
    if (strcmp(option, "--table") == 0 && arguments->ntables < TABLES_MAX)
        return &arguments->table[arguments->ntables++];
    return resize_slot(arguments, option);
}

static bool set_flag(struct arguments *arguments, const char *option)
{
    if (strcmp(option, "--flat") == 0)
        arguments->flat = true;
    else if (strcmp(option, "--check") == 0)
        arguments->check = true;
    else if (strcmp(option, "--replace") == 0)
        arguments->replace = true;
    else
        return false;
    return true;
}

/* One option at argv[i]; returned: how many words it took, 0 after a fault. */
static int read_option(const struct command *command, struct arguments *arguments, char **argv,
                       int i, int argc)
{
    char option[32];
    const char *equals = strncmp(argv[i], "--", 2) == 0 ? strchr(argv[i], '=') : NULL;
    size_t length = equals ? (size_t)(equals - argv[i]) : strlen(argv[i]);
    const char **slot;

    if (length >= sizeof option)
        length = sizeof option - 1;
    memcpy(option, argv[i], length);
    option[length] = '\0';
    if (!takes(command, option)) {
        command_usage("%s does not take %s. strandwise %s --help says what it takes.",
                      command->name, argv[i], command->name);
        return 0;
    }
    if (!equals && set_flag(arguments, option))
        return 1;
    if (strcmp(option, "--table") == 0 && arguments->ntables == TABLES_MAX) {
        command_usage("at most %d tables of your own can be named.", TABLES_MAX);
        return 0;
    }
    slot = value_slot(arguments, option);
    if (!slot || (!equals && i + 1 >= argc)) {
        command_usage(slot ? "%s needs a value behind it." : "%s takes no value.", option);
        return 0;
    }
    *slot = equals ? equals + 1 : argv[i + 1];
    return equals ? 1 : 2;
}

static bool read_arguments(const struct command *command, int argc, char **argv,
                           struct arguments *arguments)
{
    bool words_only = false;

    for (int i = 2; i < argc;) {
        if (!words_only && strcmp(argv[i], "--") == 0) {
            words_only = true;
            i++;
        } else if (!words_only && argv[i][0] == '-' && argv[i][1] != '\0') {
            int took = read_option(command, arguments, argv, i, argc);

            if (took == 0)
                return false;
            i += took;
        } else if (arguments->nwords == command->words_max) {
            command_usage("%s is one word too many. strandwise %s --help shows the form.", argv[i],
                          command->name);
            return false;
        } else {
            arguments->word[arguments->nwords++] = argv[i++];
        }
    }
    if (arguments->nwords >= command->words_min)
        return true;
    command_usage("write: strandwise %s %s", command->name, command->usage);
    return false;
}

static bool asks(int argc, char **argv, const char *a, const char *b)
{
    for (int i = 1; i < argc && strcmp(argv[i], "--") != 0; i++)
        if (strcmp(argv[i], a) == 0 || strcmp(argv[i], b) == 0)
            return true;
    return false;
}

static bool wants_colour(int fd)
{
    const char *no_color = getenv("NO_COLOR");
    const char *term = getenv("TERM");

    return isatty(fd) && (!no_color || !*no_color) && term && strcmp(term, "dumb") != 0;
}

static bool shows_any_shade(void)
{
    const char *term = getenv("COLORTERM");

    return term && (strcmp(term, "truecolor") == 0 || strcmp(term, "24bit") == 0);
}

static int window_columns(int fd)
{
    struct winsize size;

    return isatty(fd) && ioctl(fd, TIOCGWINSZ, &size) == 0 ? size.ws_col : 0;
}

/* Load the tables, her own copies over ours; then the command. */
static enum run_status run_command(const struct command *command, struct work *work,
                                   const struct arguments *arguments)
{
    work->tables = tables_load(work);
    for (int i = 0; work->tables && i < arguments->ntables; i++)
        work->tables = tables_override(work, work->tables, arguments->table[i]);
    if (!work->tables)
        return run_verdict(work);
    return command->run(work, arguments);
}

/* A plan as text holds its own notes and cautions: they are not said twice. */
static bool says_notes_itself(const struct command *command, const struct arguments *arguments,
                              enum run_status status)
{
    return status == RUN_DONE && command->run == command_plan &&
           (!arguments->as || strcmp(arguments->as, "json") != 0);
}

static enum run_status no_memory(struct arena *arena)
{
    fputs("strandwise: not enough memory for this. Plan one band at a time.\n", stderr);
    arena_destroy(arena);
    return RUN_FILE;
}

static enum run_status run_in_arena(const struct command *command, const struct arguments *arguments)
{
    struct arena *arena = arena_create(MEMORY_MAX);
    struct work work = {.arena = arena};
    enum run_status status;

    if (!arena)
        return no_memory(NULL);
    if (setjmp(*arena_escape(arena)) != 0)
        return no_memory(arena);
    work.diagnostics = diagnostics_create(arena);
    status = run_command(command, &work, arguments);
    if (!says_notes_itself(command, arguments, status))
        diagnostics_print(work.diagnostics, stderr, arguments->colour_messages);
    arena_destroy(arena);
    return status;
}

int main(int argc, char **argv)
{
    struct arguments arguments = {0};
    const struct command *command;

    gsl_set_error_handler_off();
    if (argc < 2) {
        command_usage("say what to do: strandwise plan my-project.ini, or strandwise --help.");
        return RUN_USAGE;
    }
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0 || strcmp(argv[1], "help") == 0)
        print_help();
    else if (strcmp(argv[1], "--version") == 0)
        print_version();
    else if ((command = find_command(argv[1])) == NULL)
        return RUN_USAGE;
    else if (asks(argc, argv, "--help", "-h"))
        printf("strandwise %s %s\n%s.\n%s", command->name, command->usage, command->summary,
               command->help);
    else if (!read_arguments(command, argc, argv, &arguments))
        return RUN_USAGE;
    else {
        arguments.colour_out = wants_colour(STDOUT_FILENO);
        arguments.true_colour = shows_any_shade();
        arguments.window_columns = window_columns(STDOUT_FILENO);
        arguments.colour_messages = wants_colour(STDERR_FILENO);
        return (int)run_in_arena(command, &arguments);
    }
    return fflush(stdout) == 0 && !ferror(stdout) ? RUN_DONE : RUN_FILE;
}
