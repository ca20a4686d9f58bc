package catchbay.sim.device;

import catchbay.app.Exit;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

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
        name = "controller",
        description = {
            "Plays a truck's controller that sends its running total as text.",
            "It obeys lines typed to it: total LITRES, flow LITRES_PER_S, unit UNIT, "
                    + "fault none|silent|garble|noise|flip|fragment|split|merge, "
                    + "show, unplug, replug, quit. "
                    + "It ends when its input ends."
        })
final class ControllerCommand implements Callable<Integer> {

    @Option(
            names = "--link",
            paramLabel = "PATH",
            description = "symbolic link to its line, made and removed by it")
    private Path link;

    @Option(
            names = "--rate",
            paramLabel = "HERTZ",
            defaultValue = "5",
            description = "lines a second (default: 5)")
    private double rate;

    @Option(
            names = "--unit",
            paramLabel = "UNIT",
            defaultValue = "us_gal",
            description = "us_gal, imperial_gal or litres (default: us_gal)")
    private String unit;

    @Option(
            names = "--decimals",
            paramLabel = "N",
            defaultValue = "2",
            description = "digits behind the point (default: 2)")
    private int decimals;

    @Option(
            names = "--text",
            paramLabel = "TEXT",
            defaultValue = "TOTAL {total} {unit}",
            description = "its line, with {total} and {unit} (default: TOTAL {total} {unit})")
    private String text;

    @Option(
            names = "--seed",
            paramLabel = "N",
            defaultValue = "1",
            description = "what faults draw from (default: 1)")
    private long seed;

    @Spec private CommandSpec spec;

    @Override
    public Integer call() {
        GrowingAmount litres = new GrowingAmount(System::nanoTime);
        StandInController.Setting setting;
        try {
            setting =
                    new StandInController.Setting(
                            text,
                            DeviceConsole.periodNanos(rate),
                            VolumeUnit.ofSuffix(unit),
                            decimals,
                            Optional.ofNullable(link),
                            seed);
        } catch (IllegalArgumentException refusal) {
            throw new CommandLine.ParameterException(spec.commandLine(), refusal.getMessage());
        }
        try (StandInController controller =
                new StandInController(
                        setting, () -> Volume.of(Math.max(0, litres.now()), VolumeUnit.LITRE))) {
            Runtime.getRuntime().addShutdownHook(new Thread(controller::close));
            return new DeviceConsole(
                            controller::path,
                            controller::fault,
                            controller::unplug,
                            controller::replug)
                    .number("total", litres::set)
                    .number("flow", litres::flow)
                    .text("unit", suffix -> controller.show(VolumeUnit.ofSuffix(suffix)))
                    .shows(() -> String.format(Locale.ROOT, "total %.3f litres", litres.now()))
                    .obey(System.in, spec.commandLine().getOut(), spec.commandLine().getErr());
        } catch (IOException failure) {
            spec.commandLine().getErr().println("catchbay: " + failure.getMessage());
            return Exit.FAILED;
        }
    }
}
