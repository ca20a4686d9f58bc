package catchbay.sim.device;

import picocli.CommandLine.Command;

/** The command that starts stand-in devices, each a process of its own. */
@Command(
        name = "stand-in",
        description = "Plays a device on a pseudo-terminal, for trying a bay without one.",
        mixinStandardHelpOptions = true,
        synopsisSubcommandLabel = "COMMAND",
        subcommands = {ScaleCommand.class, ControllerCommand.class})
public final class StandInCommand {}
