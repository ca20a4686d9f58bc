package catchbay.app;

import catchbay.port.PortKind;
import catchbay.run.RunSetup;

import java.util.ArrayList;
import java.util.List;

/**
 * Whether the ports that the settings choose can serve the setup. A bay that lacks one would find
 * out in the middle of a catch; here it is said before anything moves.
 */
final class PortNeeds {

    private final Settings settings;
    private final RunSetup setup;
    private final List<String> problems = new ArrayList<>();

    private PortNeeds(Settings settings, RunSetup setup) {
        this.settings = settings;
        this.setup = setup;
    }

    /** What is lacking, each as a sentence with what to change; empty when nothing is. */
    static List<String> problems(Settings settings, RunSetup setup) {
        PortNeeds needs = new PortNeeds(settings, setup);
        needs.sources();
        needs.outputs();
        return List.copyOf(needs.problems);
    }

    private void sources() {
        if (setup.scale().isPresent()) {
            need(PortKind.SCALE, "[scale] is described", "take [scale] out");
        }
        if (setup.reference().isPresent()) {
            need(PortKind.PULSES, "[reference] is described", "take [reference] out");
        }
        if (setup.diverter().isPresent()) {
            need(PortKind.CONTACTS, "[diverter] is described", "take [diverter] out");
        }
        if (!setup.doubts().temperatures().sensors().places().isEmpty()) {
            need(
                    PortKind.TEMPERATURE,
                    "temperature.sensors names thermometers",
                    "take temperature.sensors out and type the temperatures");
        }
        switch (setup.reported()) {
            case RunSetup.Reported.Display typed -> {
                // Its port is the operator, who is always there.
            }
            case RunSetup.Reported.RunningLine line ->
                    need(PortKind.CONTROLLER, "reported.source is line", "choose another source");
            case RunSetup.Reported.MeterPulses pulses ->
                    need(PortKind.PULSES, "reported.source is pulses", "choose another source");
            case RunSetup.Reported.Nothing nothing -> {
                // Nothing is looked at.
            }
        }
    }

    private void outputs() {
        if (setup.diverter().isPresent()) {
            need(PortKind.OUTPUTS, "[diverter] is described", "take [diverter] out");
        }
        switch (setup.plan().flowBy()) {
            case OPERATOR -> {
                // He needs no output.
            }
            case SUPPLY ->
                    need(
                            PortKind.OUTPUTS,
                            "catch.flow_by is supply",
                            "let the operator start the flow");
            case GROUND_SPEED -> {
                need(
                        PortKind.PULSE_OUTPUT,
                        "catch.flow_by is ground-speed",
                        "let the operator start the flow");
                // Speed that goes on when the program dies is ended by the watchdog relay alone.
                need(
                        PortKind.OUTPUTS,
                        "catch.flow_by is ground-speed, which nothing but the outputs' watchdog"
                                + " relay ends when the program dies",
                        "let the operator start the flow");
            }
        }
        if (setup.plan().drainNanos() > 0) {
            need(
                    PortKind.OUTPUTS,
                    "catch.drain_seconds is above 0",
                    "set drain_seconds = 0 and drain by hand");
        }
    }

    private void need(PortKind kind, String because, String otherwise) {
        if (settings.provider(kind, AbsentPorts.NAME).equals(AbsentPorts.NAME)) {
            problems.add(
                    because
                            + ", but no provider is chosen under [port."
                            + kind.key()
                            + "]; choose one, or "
                            + otherwise
                            + ".");
        }
    }
}
