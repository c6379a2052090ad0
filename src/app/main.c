/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The command line: read it, set up the run, print the messages, say how it went.
 */
#include <cairo.h>
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
#include "command.h"
#include "disk.h"
#include "inside.h"

static const size_t MEMORY_MAX =
    SIZE_MAX / 2 < (uint64_t)8 << 30 ? SIZE_MAX / 2 : (size_t)((uint64_t)8 << 30);

/* --- the table of commands and options -------------------------------------------------- */

static const struct command commands[] = {
#define COMMAND(name, words, fewest, most, summary, help) \
    {#name, words, fewest, most, summary, help, command_##name},
#include "options.h"
};

struct option {
    const char *word, *value; /* value NULL: it takes none */
    size_t where;             /* in struct arguments */
};

static const struct option options[] = {
#define OPTION(word, field, value, help) {word, value, offsetof(struct arguments, field)},
#include "options.h"
};

static const struct use {
    const char *command, *option, *value;
    enum { MUST, MAY, MAY_AGAIN, WITH, OR } form;
} uses[] = {
#define USE(command, option, value, form) {#command, option, value, form},
#include "options.h"
};

enum {
    NCOMMANDS = sizeof commands / sizeof *commands,
    NOPTIONS = sizeof options / sizeof *options,
    NUSES = sizeof uses / sizeof *uses
};

static const struct option *find_option(const char *word)
{
    for (int i = 0; i < NOPTIONS; i++)
        if (strcmp(options[i].word, word) == 0)
            return &options[i];
    return NULL;
}

/* NULL: the command does not take it. */
static const struct use *find_use(const struct command *command, const char *option)
{
    for (int i = 0; i < NUSES; i++)
        if (strcmp(uses[i].command, command->name) == 0 && strcmp(uses[i].option, option) == 0)
            return &uses[i];
    return NULL;
}

/* --- help ------------------------------------------------------------------------------- */

struct usage {
    char text[512];
};

/* "PROJECT [--as text|json|pdf] [-o FILE] [--table FILE]..." */
static struct usage usage_of(const struct command *command)
{
    static const char *const before[] = {
        [MUST] = " ", [MAY] = " [", [MAY_AGAIN] = " [", [WITH] = " ", [OR] = " | "};
    struct usage usage;
    int at = snprintf(usage.text, sizeof usage.text, "%s", command->words);

    for (int i = 0; i < NUSES; i++) {
        const struct use *use = &uses[i];
        const char *value = use->value ? use->value : find_option(use->option)->value;
        bool goes_on = i + 1 < NUSES && use[1].form >= WITH;

        if (strcmp(use->command, command->name) != 0)
            continue;
        at += snprintf(usage.text + at, sizeof usage.text - (size_t)at, "%s%s%s%s%s", before[use->form],
                       use->option, value ? " " : "", value ? value : "",
                       use->form == MUST || goes_on ? "" : use->form == MAY_AGAIN ? "]..." : "]");
    }
    return usage;
}

/* The usage of a command, broken before column 80. */
static void print_usage(const struct command *command)
{
    const struct usage usage = usage_of(command);
    const char *word = usage.text;
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
    for (int i = 0; i < NCOMMANDS; i++)
        print_usage(&commands[i]);
    fputs("\n"
          "  strandwise COMMAND --help says more; --version says which one this is.\n"
          "  Results go to standard output, messages to standard error. NO_COLOR set: no\n"
          "  colours.\n"
          "  Ends with 0 done, 1 the project needs mending, 2 wrong command line,\n"
          "  3 a file could not be read or written.\n",
          stdout);
}

static void print_version(void)
{
    printf("strandwise %s\n"
           "GSL %s, libpng %s, cairo %s, iniparser 4\n"
           "Licence GPL-3.0-or-later. No warranty: the swatch decides.\n",
           STRANDWISE_VERSION, GSL_VERSION, png_get_libpng_ver(NULL), cairo_version_string());
}

/* --- reading the command line ------------------------------------------------------------ */

static const struct command *find_command(const char *name)
{
    const char *names[NCOMMANDS];
    const char *nearest;

    for (int i = 0; i < NCOMMANDS; i++) {
        if (strcmp(commands[i].name, name) == 0)
            return &commands[i];
        names[i] = commands[i].name;
    }
    nearest = text_nearest(name, names, NCOMMANDS);
    if (nearest)
        command_usage("there is no command %s. Did you mean %s?", name, nearest);
    else
        command_usage("there is no command %s. strandwise --help lists them.", name);
    return NULL;
}

static void put_value(struct arguments *arguments, const struct option *option, const char *value)
{
    const char **slot = (const char **)(void *)((char *)arguments + option->where);

    if (slot == arguments->table)
        arguments->table[arguments->ntables++] = value;
    else
        *slot = value;
}

/* One option at argv[i]; returned: how many words it took, 0 after a fault. */
static int read_option(const struct command *command, struct arguments *arguments, char **argv,
                       int i, int argc)
{
    char word[32];
    const char *equals = strncmp(argv[i], "--", 2) == 0 ? strchr(argv[i], '=') : NULL;
    size_t length = equals ? (size_t)(equals - argv[i]) : strlen(argv[i]);
    const struct option *option;

    if (length >= sizeof word)
        length = sizeof word - 1;
    memcpy(word, argv[i], length);
    word[length] = '\0';
    if (!find_use(command, word)) {
        command_usage("%s does not take %s. strandwise %s --help says what it takes.",
                      command->name, argv[i], command->name);
        return 0;
    }
    option = find_option(word);
    if (strcmp(word, "--table") == 0 && arguments->ntables == TABLES_MAX) {
        command_usage("at most %d tables of your own can be named.", TABLES_MAX);
        return 0;
    }
    if (option->value ? !equals && i + 1 >= argc : equals != NULL) {
        command_usage(option->value ? "%s needs a value behind it." : "%s takes no value.", word);
        return 0;
    }
    put_value(arguments, option, equals ? equals + 1 : option->value ? argv[i + 1] : option->word);
    return equals || !option->value ? 1 : 2;
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
        } else if (arguments->nwords == command->most) {
            command_usage("%s is one word too many. strandwise %s --help shows the form.", argv[i],
                          command->name);
            return false;
        } else {
            arguments->word[arguments->nwords++] = argv[i++];
        }
    }
    if (arguments->nwords >= command->fewest)
        return true;
    command_usage("write: strandwise %s %s", command->name, usage_of(command).text);
    return false;
}

static bool asks(int argc, char **argv, const char *a, const char *b)
{
    for (int i = 1; i < argc && strcmp(argv[i], "--") != 0; i++)
        if (strcmp(argv[i], a) == 0 || strcmp(argv[i], b) == 0)
            return true;
    return false;
}

/* --- the terminal -------------------------------------------------------------------------- */

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

/* --- the run -------------------------------------------------------------------------------- */

struct run {
    const struct command *command;
    const struct arguments *arguments;
    enum run_status status;
};

/* Her own copies of tables over ours; then the command; then what was to be said. */
static void run_command(void *data)
{
    struct run *run = data;
    const struct arguments *arguments = run->arguments;
    struct strandwise *core = arguments->core;
    struct text messages = text_create(core->work.arena);
    bool said;

    for (int i = 0; run->status == RUN_DONE && i < arguments->ntables; i++)
        run->status = strandwise_table(core, arguments->table[i]);
    if (run->status == RUN_DONE)
        run->status = run->command->run(arguments);
    said = run->status == RUN_DONE && run->command->run == command_plan && command_plan_says_notes(arguments);
    if (said || run->status == RUN_MEMORY)
        return;
    diagnostics_say(core->work.diagnostics, arguments->colour_messages, &messages);
    fwrite(messages.bytes, 1, messages.length, stderr);
}

static int run_all(const struct command *command, struct arguments *arguments)
{
    struct run run = {command, arguments, RUN_DONE};

    arguments->core = strandwise_begin_with(&disk, MEMORY_MAX);
    if (!arguments->core || !arena_run(arguments->core->work.arena, run_command, &run))
        run.status = RUN_MEMORY;
    if (run.status == RUN_MEMORY)
        fputs("strandwise: not enough memory for this. Plan one band at a time.\n", stderr);
    strandwise_end(arguments->core);
    return run.status == RUN_MEMORY ? RUN_FILE : (int)run.status;
}

int main(int argc, char **argv)
{
    struct arguments arguments = {.colour_out = wants_colour(STDOUT_FILENO),
                                  .true_colour = shows_any_shade(),
                                  .window_columns = window_columns(STDOUT_FILENO),
                                  .colour_messages = wants_colour(STDERR_FILENO)};
    const struct command *command;

    strandwise_start();
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
        printf("strandwise %s %s\n%s.\n%s", command->name, usage_of(command).text, command->summary,
               command->help);
    else if (!read_arguments(command, argc, argv, &arguments))
        return RUN_USAGE;
    else
        return run_all(command, &arguments);
    return fflush(stdout) == 0 && !ferror(stdout) ? RUN_DONE : RUN_FILE;
}
