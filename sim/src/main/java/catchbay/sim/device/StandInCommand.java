package catchbay.sim.device;

import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.ScopeType;

/** The command that starts stand-in devices, each a process of its own. */
@Command(
        name = "stand-in",
        description = "Plays a device on a pseudo-terminal, for trying a bay without one.",
        synopsisSubcommandLabel = "COMMAND",
        subcommands = {ScaleCommand.class, ControllerCommand.class})
public final class StandInCommand {

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            scope = ScopeType.INHERIT,
            description = "shows this help")
    private boolean help;
}
