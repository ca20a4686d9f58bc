package catchbay.app;

import catchbay.port.PortException;
import catchbay.quantity.Numeral;
import catchbay.record.DocumentException;
import catchbay.store.StoreException;

import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.MissingParameterException;
import picocli.CommandLine.Model.ArgGroupSpec;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;
import picocli.CommandLine.MutuallyExclusiveArgsException;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;
import picocli.CommandLine.TypeConversionException;
import picocli.CommandLine.UnmatchedArgumentException;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.PrintWriter;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.ServiceLoader;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * The program's door: finds the command, runs it, and turns every failure into one sentence and an
 * exit code.
 */
@Command(
        name = "catchbay",
        description = "Runs timed catch tests of a truck's liquid system in a calibration bay.",
        mixinStandardHelpOptions = false,
        subcommands = {
            CatchCommand.class,
            PlanCommand.class,
            SweepCommand.class,
            ReplayCommand.class,
            HistoryCommand.class,
            CurveCommand.class,
            BudgetCommand.class,
            DensityCommand.class,
            WeightsCommand.class,
            ShuntCommand.class,
            HuntCommand.class,
            CheckupCommand.class,
            TimingCommand.class,
            LeakCommand.class,
            CompareCommand.class,
            DueCommand.class,
            VersionCommand.class,
            HelpCommand.class
        },
        versionProvider = VersionCommand.Sentence.class,
        footer = {
            "",
            "Exit codes: 0 done, the catch was measured; 1 no result (void, stopped, ...), or",
            "a check of the bay failed;",
            "2 command, settings or file refused; 3 a port, the disk or the program failed;",
            "130 or 143 ended by Ctrl-C or a signal, with the run closed and recorded first.",
            "",
            Cautions.OF_THE_BAYS_STOPS,
            "A stop by this program is no safety device. Follow the shop's own safety rules."
        })
public final class Main implements Runnable {

    @Spec private CommandSpec spec;

    @CommandLine.Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    @CommandLine.Option(
            names = "--version",
            versionHelp = true,
            description = "Shows the versions, as the command version does.")
    private boolean version;

    /** Made by {@link #main}. */
    Main() {}

    /** Starts the program. */
    public static void main(String[] args) {
        System.exit(run(args));
    }

    /** Runs one command line and answers its exit code. */
    static int run(String... args) {
        CommandLine line = new CommandLine(new Main());
        for (CommandProvider provider : ServiceLoader.load(CommandProvider.class)) {
            line.addSubcommand(provider.command());
        }
        line.setCaseInsensitiveEnumValuesAllowed(true);
        line.registerConverter(
                Double.class, word -> converted(word, Main::number, "number, as in 12.5"));
        line.registerConverter(Long.class, word -> converted(word, Long::valueOf, "whole number"));
        line.registerConverter(
                int.class, word -> converted(word, Integer::valueOf, "whole number"));
        line.setParameterExceptionHandler(Main::refused);
        line.setExecutionExceptionHandler((e, cmd, parsed) -> {
            Screen.standardError().settle();
            return failed(e, cmd.getErr());
        });
        try {
            int code = line.execute(args);
            return code == Exit.DONE && lost() ? Exit.FAILED : code;
        } catch (Error bug) {
            // A command that breaks off by an Error passes picocli by; it must not end in a stack
            // trace either.
            Screen.standardError().settle();
            return unforeseen(bug, line.getErr());
        } finally {
            Screen.standardError().settle();
        }
    }

    /**
     * Whether what was printed went nowhere, as on a full disk, and says so. A reader that has
     * enough and closes its pipe is no loss.
     */
    private static boolean lost() {
        if (!System.out.checkError()) {
            return false;
        }
        // A print stream keeps no reason; the next byte meets the same one.
        try (FileOutputStream again = new FileOutputStream(FileDescriptor.out)) {
            again.write('\n');
        } catch (IOException reason) {
            if (!"Broken pipe".equals(reason.getMessage())) {
                System.err.println(
                        "catchbay: what was to be printed cannot be written ("
                                + reason.getMessage()
                                + "); make room, or print elsewhere. What was recorded is kept.");
                return true;
            }
        }
        return false;
    }

    @Override
    public void run() {
        spec.commandLine().usage(spec.commandLine().getOut());
    }

    /** A number that can be a figure; of another one its refusal. */
    private static double number(String word) {
        BigDecimal number = new BigDecimal(word);
        Numeral.problem(number)
                .ifPresent(why -> {
                    throw new TypeConversionException("'" + word + "': " + why);
                });
        return number.doubleValue();
    }

    private static <T> T converted(String word, Function<String, T> converter, String what) {
        try {
            return converter.apply(word);
        } catch (NumberFormatException e) {
            throw new TypeConversionException(
                    word.matches("[+-]?\\d+")
                            ? word + " is too large"
                            : "'" + word + "' is no " + what);
        }
    }

    private static int refused(ParameterException e, String[] args) {
        e.getCommandLine()
                .getErr()
                .println(
                        "catchbay: "
                                + sentence(e, args)
                                + ". See: "
                                + e.getCommandLine().getCommandSpec().qualifiedName()
                                + " --help");
        return ExitCode.USAGE;
    }

    private static String sentence(ParameterException e, String[] args) {
        return switch (e) {
            case UnmatchedArgumentException unmatched -> unmatched(unmatched);
            case MutuallyExclusiveArgsException both ->
                    exclusive(both.getCommandLine().getCommandSpec(), args);
            case MissingParameterException missing -> missing(missing);
            // Of an argument without an option's name the library tells its number only.
            case ParameterException wrong
                    when wrong.getArgSpec() instanceof PositionalParamSpec
                            && wrong.getCause() instanceof TypeConversionException why ->
                    why.getMessage();
            default -> e.getMessage();
        };
    }

    private static String unmatched(UnmatchedArgumentException e) {
        String word = e.getUnmatched().getFirst();
        return "'"
                + word
                + "' is neither a command nor an option here"
                + (word.endsWith(".toml") ? "; name a settings file with --settings FILE" : "");
    }

    /** The options of which one excludes the other, as they were typed. */
    private static String exclusive(CommandSpec command, String[] args) {
        List<String> clashing =
                command.argGroups().stream()
                        .filter(ArgGroupSpec::exclusive)
                        .map(group -> given(group, args))
                        .filter(given -> given.size() > 1)
                        .findFirst()
                        .orElseThrow();
        return String.join(" and ", clashing) + " exclude each other; give one of them, no more";
    }

    /** What was given of a group, as it was typed; an argument by its label. */
    private static List<String> given(ArgGroupSpec group, String[] args) {
        List<String> given = new ArrayList<>();
        for (int i = 0; i < args.length; i++) {
            String word = args[i];
            for (OptionSpec option : group.options()) {
                boolean named = List.of(option.names()).contains(word);
                if (named && option.arity().max() == 0) {
                    given.add(word);
                } else if (named && i + 1 < args.length) {
                    given.add(word + " " + args[i + 1]);
                } else if (Stream.of(option.names()).anyMatch(name -> holds(word, name))) {
                    given.add(word);
                }
            }
        }
        group.positionalParameters().forEach(argument -> given.add(argument.paramLabel()));
        return given;
    }

    /**
     * Whether a word is an option with its value in it, as in {@code -sFILE} or {@code --data=X}.
     */
    private static boolean holds(String word, String option) {
        return word.startsWith(option + "=") || option.length() == 2 && word.startsWith(option);
    }

    /** What an argument is comes from its description, whose first sentence says it. */
    private static String missing(MissingParameterException e) {
        List<ArgSpec> missing = e.getMissing();
        Optional<ArgSpec> argument = missing.stream().filter(ArgSpec::isPositional).findFirst();
        if (argument.isEmpty()) {
            return e.getMessage();
        }
        String what = argument.get().description()[0].replaceFirst("\\.( .*)?$", "");
        String others =
                missing.stream()
                        .filter(ArgSpec::isOption)
                        .map(option -> ", or " + ((OptionSpec) option).longestName())
                        .collect(Collectors.joining());
        return argument.get().paramLabel()
                + " is missing; give "
                + what.substring(0, 1).toLowerCase(Locale.ROOT)
                + what.substring(1)
                + others;
    }

    private static int failed(Exception e, PrintWriter err) {
        return switch (e) {
            case DocumentException refusal -> {
                err.println("catchbay: " + refusal.getMessage());
                yield Exit.USAGE;
            }
            case PortException broken -> {
                err.println("catchbay: " + broken.getMessage());
                yield Exit.FAILED;
            }
            case StoreException unusable -> {
                err.println("catchbay: " + unusable.getMessage());
                yield Exit.FAILED;
            }
            case IOException disk -> {
                err.println(
                        "catchbay: a file cannot be read or written ("
                                + disk
                                + "); check that the disk is there, not full and may be written"
                                + " to");
                yield Exit.FAILED;
            }
            default -> unforeseen(e, err);
        };
    }

    private static int unforeseen(Throwable bug, PrintWriter err) {
        StackTraceElement[] trace = bug.getStackTrace();
        err.println(
                "catchbay: the program failed in a way it did not foresee ("
                        + bug
                        + (trace.length == 0 ? "" : " at " + trace[0])
                        + "); outputs that were in use are in their safe state; please report this"
                        + " sentence");
        return Exit.FAILED;
    }
}
