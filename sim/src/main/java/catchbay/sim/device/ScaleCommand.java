package catchbay.sim.device;

import catchbay.app.Exit;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;

import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;

@Command(
        name = "scale",
        description = {
            "Plays a scale that speaks the SMA protocol (SCP-0499), or Modbus registers.",
            "It obeys lines typed to it: mass KG, flow KG_PER_S, unit UNIT, "
                    + "fault none|silent|garble|noise|flip|fragment|split|merge|motion, "
                    + "show, unplug, replug, quit. "
                    + "It ends when its input ends."
        })
final class ScaleCommand implements Callable<Integer> {

    enum Mode {
        poll(StandInScale.Speech.SMA_POLLED),
        stream(StandInScale.Speech.SMA_STREAMING),
        modbus(StandInScale.Speech.MODBUS);

        private final StandInScale.Speech speech;

        Mode(StandInScale.Speech speech) {
            this.speech = speech;
        }
    }

    @Option(
            names = "--link",
            paramLabel = "PATH",
            description = "symbolic link to its line, made and removed by it")
    private Path link;

    @Option(
            names = "--mode",
            paramLabel = "MODE",
            defaultValue = "poll",
            description = "${COMPLETION-CANDIDATES} (default: poll)")
    private Mode mode;

    @Option(
            names = "--rate",
            paramLabel = "HERTZ",
            defaultValue = "10",
            description = "frames a second, streaming or repeating (default: 10)")
    private double rate;

    @Option(
            names = "--unit",
            paramLabel = "UNIT",
            defaultValue = "kg",
            description = "kg, lb, g, t, ton or oz (default: kg)")
    private String unit;

    @Option(
            names = "--decimals",
            paramLabel = "N",
            defaultValue = "2",
            description = "digits behind the point (default: 2)")
    private int decimals;

    @Option(
            names = "--seed",
            paramLabel = "N",
            defaultValue = "1",
            description = "what faults draw from (default: 1)")
    private long seed;

    @Spec private CommandSpec spec;

    @Override
    public Integer call() {
        GrowingAmount kilograms = new GrowingAmount(System::nanoTime);
        StandInScale.Setting setting;
        try {
            setting =
                    new StandInScale.Setting(
                            mode.speech,
                            DeviceConsole.periodNanos(rate),
                            MassUnit.ofSymbol(unit),
                            decimals,
                            Mass.of(5000, MassUnit.KILOGRAM),
                            Optional.ofNullable(link),
                            seed);
        } catch (IllegalArgumentException refusal) {
            throw new CommandLine.ParameterException(spec.commandLine(), refusal.getMessage());
        }
        try (StandInScale scale =
                new StandInScale(setting, () -> Mass.of(kilograms.now(), MassUnit.KILOGRAM))) {
            Runtime.getRuntime().addShutdownHook(new Thread(scale::close));
            return new DeviceConsole(scale::path, scale::fault, scale::unplug, scale::replug)
                    .number("mass", kilograms::set)
                    .number("flow", kilograms::flow)
                    .text("unit", symbol -> scale.show(MassUnit.ofSymbol(symbol)))
                    .shows(() -> String.format(Locale.ROOT, "mass %.3f kg", kilograms.now()))
                    .obey(System.in, spec.commandLine().getOut(), spec.commandLine().getErr());
        } catch (IOException failure) {
            spec.commandLine().getErr().println("catchbay: " + failure.getMessage());
            return Exit.FAILED;
        }
    }
}
