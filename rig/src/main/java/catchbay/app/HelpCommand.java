package catchbay.app;

import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

import java.io.PrintStream;
import java.util.List;

/** Shows the help of a command, for whoever asks in that order. */
@Command(name = "help", description = "Shows the help of a command.")
final class HelpCommand implements Runnable {

    @Spec private CommandSpec spec;

    @Parameters(paramLabel = "COMMAND", description = "Which one; none for all of them.")
    private List<String> commands = List.of();

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    HelpCommand() {}

    @Override
    public void run() {
        CommandLine named = spec.commandLine().getParent();
        for (String command : commands) {
            named = named.getSubcommands().get(command);
            if (named == null) {
                throw new ParameterException(
                        spec.commandLine().getParent(), "there is no command '" + command + "'");
            }
        }
        PrintStream out = Page.out();
        out.print(named.getUsageMessage());
        out.flush();
    }
}
