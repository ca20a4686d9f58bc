package catchbay.sim;

import catchbay.port.PortSettings;
import catchbay.quantity.Speed;
import catchbay.run.RunSetup;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.ToDoubleFunction;

/**
 * The one sheet on which every option of a stand-in bay stands with its key, unit and bounds:
 * settings are read by it and banners are written by it.
 */
final class OptionSheet {

    /**
     * @param key the key in the settings, ending with the unit
     * @param perUnit how many of the key's unit make one of the option's
     * @param least the least value, in the key's unit
     * @param most the greatest value, in the key's unit
     * @param of the option's value
     */
    private record Line(
            String key,
            double perUnit,
            double least,
            double most,
            ToDoubleFunction<SimOptions> of) {

        double read(PortSettings settings, SimOptions drawn) {
            double raw = of.applyAsDouble(drawn);
            double shown = raw * perUnit;
            double chosen = settings.number(key, least, most, shown);
            return chosen == shown ? raw : chosen / perUnit;
        }
    }

    private static final double PER_CENT = 100;
    private static final double PER_MINUTE = 60;
    private static final double MILLI = 1000;

    private static final List<Line> LINES =
            List.of(
                    new Line(
                            "truck_over_reading_percent",
                            PER_CENT,
                            -50,
                            50,
                            o -> o.truck().overReadingRatio()),
                    new Line(
                            "truck_low_flow_loss_percent",
                            PER_CENT,
                            0,
                            50,
                            o -> o.truck().lowFlowLossRatio()),
                    new Line(
                            "truck_cut_off_litres_per_min",
                            PER_MINUTE,
                            0,
                            100,
                            o -> o.truck().cutOffLitresPerSecond()),
                    new Line(
                            "truck_pulse_shift_percent",
                            PER_CENT,
                            0,
                            45,
                            o -> o.truck().shiftRatio()),
                    new Line(
                            "truck_pump_litres_per_min",
                            PER_MINUTE,
                            0.1,
                            3000,
                            o -> o.truck().pumpLitresPerSecond()),
                    new Line(
                            "truck_open_loop_error_percent",
                            PER_CENT,
                            -90,
                            100,
                            o -> o.truck().openLoopErrorRatio()),
                    new Line(
                            "truck_flow_noise_percent",
                            PER_CENT,
                            0,
                            20,
                            o -> o.truck().flowNoiseRatio()),
                    new Line("truck_dead_s", 1, 0, 5, o -> o.truck().deadSeconds()),
                    new Line("truck_lag_s", 1, 0.01, 10, o -> o.truck().lagSeconds()),
                    new Line("truck_speed_lag_s", 1, 0.01, 10, o -> o.truck().speedLagSeconds()),
                    new Line("truck_gain_per_s", 1, 0.01, 5, o -> o.truck().gainPerSecond()),
                    new Line("truck_total_lag_s", 1, 0, 6, o -> o.truck().totalLagSeconds()),
                    new Line(
                            "truck_total_at_start_litres",
                            1,
                            0,
                            1e6,
                            o -> o.truck().totalAtStartLitres()),
                    new Line("truck_line_s", 1, 0.05, 60, o -> o.truck().lineSeconds()),
                    new Line(
                            "truck_nominal_litres_per_min",
                            PER_MINUTE,
                            0.1,
                            3000,
                            o -> o.truck().nominalLitresPerSecond()),
                    new Line(
                            "reference_error_percent",
                            PER_CENT,
                            -50,
                            50,
                            o -> o.bay().referenceErrorRatio()),
                    new Line(
                            "reference_pulse_shift_percent",
                            PER_CENT,
                            0,
                            45,
                            o -> o.bay().referenceShiftRatio()),
                    new Line(
                            "reference_low_flow_loss_percent",
                            PER_CENT,
                            -50,
                            50,
                            o -> o.bay().referenceLowFlowLossRatio()),
                    new Line(
                            "reference_cut_off_litres_per_min",
                            PER_MINUTE,
                            0,
                            100,
                            o -> o.bay().referenceCutOffLitresPerSecond()),
                    new Line("reference_lag_s", 1, 0, 10, o -> o.bay().referenceLagSeconds()),
                    new Line(
                            "density_error_percent",
                            PER_CENT,
                            -20,
                            20,
                            o -> o.bay().densityErrorRatio()),
                    new Line(
                            "diverter_delay_ms",
                            MILLI,
                            0,
                            5000,
                            o -> o.bay().diverterDelaySeconds()),
                    new Line(
                            "diverter_travel_ms",
                            MILLI,
                            10,
                            10_000,
                            o -> o.bay().diverterTravelSeconds()),
                    new Line(
                            "diverter_asymmetry_ms",
                            MILLI,
                            -1000,
                            1000,
                            o -> o.bay().diverterAsymmetrySeconds()),
                    new Line("chute_s", 1, 0.01, 60, o -> o.bay().chuteSeconds()),
                    new Line(
                            "drain_litres_per_min",
                            PER_MINUTE,
                            0.1,
                            6000,
                            o -> o.bay().drainLitresPerSecond()),
                    new Line("float_litres", 1, 0.1, 100_000, o -> o.bay().floatLitres()),
                    new Line(
                            "scale_span_error_percent",
                            PER_CENT,
                            -20,
                            20,
                            o -> o.scale().spanErrorRatio()),
                    new Line("scale_noise_kg", 1, 0, 100, o -> o.scale().noiseKilograms()),
                    new Line("scale_jet_kg_per_litre_s", 1, 0, 100, o -> o.scale().jetKilograms()),
                    new Line("scale_empty_kg", 1, -100, 10_000, o -> o.scale().emptyKilograms()),
                    new Line("scale_lag_s", 1, 0.01, 30, o -> o.scale().lagSeconds()),
                    new Line("scale_period_s", 1, 0.02, 10, o -> o.scale().periodSeconds()),
                    new Line("scale_hose_kg", 1, -100, 100, o -> o.scale().hoseKilograms()),
                    new Line("answer_least_s", 1, 0.1, 600, o -> o.person().answerSecondsLeast()),
                    new Line("answer_most_s", 1, 0.1, 600, o -> o.person().answerSecondsMost()),
                    new Line("liquid_celsius", 1, -40, 60, o -> o.warmth().liquidCelsius()),
                    new Line("truck_over_kelvin", 1, -40, 40, o -> o.warmth().truckOverKelvin()),
                    new Line("room_celsius", 1, -40, 60, o -> o.warmth().roomCelsius()),
                    new Line("thermometer_noise_kelvin", 1, 0, 10, o -> o.warmth().noiseKelvin()));

    private OptionSheet() {}

    /**
     * The options of a section: what it does not say is drawn from its {@code seed}.
     *
     * @param usual the speed that the bay's settings ask for; the setup may be that of a run at
     *     another
     */
    static SimOptions read(PortSettings settings, RunSetup setup, Speed usual) {
        RunSetup.Asked asked = setup.asked();
        double flow =
                TruckSystem.flowAsked(
                        new RunSetup.Asked(asked.application(), usual, asked.pulsesPerMile()));
        SimOptions drawn =
                SimOptions.drawn(settings.whole("seed", 0, Long.MAX_VALUE, 1), setup, flow);
        double[] values = new double[LINES.size()];
        for (int i = 0; i < values.length; i++) {
            values[i] = LINES.get(i).read(settings, drawn);
        }
        String name = settings.optionalText("operator").orElse(drawn.person().name());
        return of(drawn.seed(), values, name, faults(settings));
    }

    private static List<Fault> faults(PortSettings settings) {
        List<Fault> faults = new ArrayList<>();
        for (String text : settings.texts("faults")) {
            try {
                faults.add(Fault.parsed(text));
            } catch (IllegalArgumentException refused) {
                throw settings.refused("faults", refused.getMessage());
            }
        }
        return faults;
    }

    private static SimOptions of(long seed, double[] v, String name, List<Fault> faults) {
        SimOptions.Truck truck =
                new SimOptions.Truck(
                        v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9], v[10], v[11],
                        v[12], v[13], v[14]);
        SimOptions.Bay bay =
                new SimOptions.Bay(
                        v[15], v[16], v[17], v[18], v[19], v[20], v[21], v[22], v[23], v[24], v[25],
                        v[26]);
        SimOptions.Scale scale =
                new SimOptions.Scale(v[27], v[28], v[29], v[30], v[31], v[32], v[33]);
        SimOptions.Person person = new SimOptions.Person(name, v[34], Math.max(v[34], v[35]));
        SimOptions.Warmth warmth = new SimOptions.Warmth(v[36], v[37], v[38], v[39]);
        return new SimOptions(seed, truck, bay, scale, person, warmth, faults);
    }

    /** The seed and all options as a settings section would say them, a line each. */
    static String banner(SimOptions options) {
        StringBuilder text = new StringBuilder("seed = ").append(options.seed()).append('\n');
        for (Line line : LINES) {
            double shown = line.of.applyAsDouble(options) * line.perUnit;
            text.append(String.format(Locale.ROOT, "%s = %.6g\n", line.key, shown));
        }
        text.append("operator = \"").append(options.person().name()).append("\"\n");
        List<String> faults =
                options.faults().stream().map(fault -> "\"" + fault.text() + "\"").toList();
        return text.append("faults = [").append(String.join(", ", faults)).append("]\n").toString();
    }
}
