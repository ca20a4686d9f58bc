package catchbay.hardware.serial;

import catchbay.port.PortSettings;
import catchbay.quantity.MassUnit;
import catchbay.run.RunInput;
import catchbay.signal.Decoded;
import catchbay.signal.RegisterScale;
import catchbay.signal.ScaleFrame;

import com.digitalpetri.modbus.ExceptionCode;
import com.digitalpetri.modbus.FunctionCode;
import com.digitalpetri.modbus.pdu.ReadHoldingRegistersRequest;
import com.digitalpetri.modbus.pdu.ReadHoldingRegistersResponse;
import com.digitalpetri.modbus.pdu.ReadInputRegistersRequest;
import com.digitalpetri.modbus.pdu.ReadInputRegistersResponse;

import java.math.BigDecimal;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * Asks a scale for its weight as Modbus registers. The library reads and writes the messages; its
 * own line, which neither keeps a pace nor finds the next answer after noise, is not used.
 */
final class ModbusTalk {

    private static final int STATION_MAX = 247;
    private static final int BIT_MAX = 15;
    private static final int MASK_MAX = 0xffff;
    private static final int QUESTION_BYTES = 8;
    private static final int ANSWER_BYTES_BESIDES_DATA = 5;
    private static final int FUNCTION_AT = 1;

    /** What a setting that is not there is taken as. */
    private static final int ABSENT = -1;

    private final int station;
    private final boolean holding;
    private final RegisterScale scale;
    private final int count;

    private ModbusTalk(int station, boolean holding, RegisterScale scale) {
        this.station = station;
        this.holding = holding;
        this.scale = scale;
        this.count = scale.count();
    }

    /**
     * What the settings ask for.
     *
     * @param unit the unit that the settings name, if they do
     */
    static LineTalk of(PortSettings settings, SerialSettings line, Optional<MassUnit> unit) {
        int station = (int) settings.whole("station", 1, STATION_MAX, 1);
        String table = settings.optionalText("table").orElse("holding");
        if (!table.equals("holding") && !table.equals("input")) {
            throw settings.refused(
                    "table", "the table '" + table + "' is not known; use holding or input");
        }
        RegisterScale scale = scale(settings, unit);
        ModbusTalk talk;
        try {
            talk = new ModbusTalk(station, table.equals("holding"), scale);
        } catch (IllegalArgumentException tooFarApart) {
            throw settings.refused("register", tooFarApart.getMessage());
        }
        int answerBytes = ANSWER_BYTES_BESIDES_DATA + 2 * talk.count;
        return new LineTalk(
                "modbus, station " + station,
                new ModbusFramer(station, talk.function().getCode(), 2 * talk.count),
                (atNanos, frame) ->
                        talk.decode(frame).map(value -> new RunInput.Scale(atNanos, value)),
                Optional.of(
                        LineTalk.Question.polled(settings, line, talk.question(), answerBytes)));
    }

    private static RegisterScale scale(PortSettings settings, Optional<MassUnit> unit) {
        if (unit.isEmpty()) {
            throw settings.refused(
                    "unit", "registers carry no unit; name the one that the scale is set to");
        }
        RegisterScale.Number number = number(settings);
        String order = settings.optionalText("word_order").orElse("high-first");
        if (!order.equals("high-first") && !order.equals("low-first")) {
            throw settings.refused(
                    "word_order",
                    "the order '" + order + "' is not known; use high-first or low-first");
        }
        if (settings.optionalText("word_order").isPresent() && number.registers() == 1) {
            throw settings.refused(
                    "word_order",
                    "a number of one register has no order of registers; leave it out, or choose"
                            + " another number");
        }
        double factor = settings.number("factor", 1e-6, 1e6, 1);
        return new RegisterScale(
                number,
                order.equals("low-first"),
                new BigDecimal(Double.toString(factor)),
                unit.get(),
                needed(settings, "register"),
                state(settings),
                unitName(settings));
    }

    private static RegisterScale.Number number(PortSettings settings) {
        String name = settings.text("number");
        for (RegisterScale.Number number : RegisterScale.Number.values()) {
            if (number.name().toLowerCase(Locale.ROOT).equals(name)) {
                return number;
            }
        }
        throw settings.refused(
                "number",
                "numbers are not written as '"
                        + name
                        + "'; use int16, uint16, int32, uint32 or float32");
    }

    private static Optional<RegisterScale.State> state(PortSettings settings) {
        OptionalInt register = whole(settings, "state_register", RegisterScale.REGISTER_MAX);
        OptionalInt moving = whole(settings, "motion_bit", BIT_MAX);
        OptionalInt still = whole(settings, "stable_bit", BIT_MAX);
        OptionalInt net = whole(settings, "net_bit", BIT_MAX);
        OptionalInt faults = whole(settings, "fault_mask", MASK_MAX);
        if (moving.isPresent() && still.isPresent()) {
            throw settings.refused(
                    "stable_bit", "motion_bit says the same the other way round; keep one of them");
        }
        boolean anyBit =
                moving.isPresent() || still.isPresent() || net.isPresent() || faults.isPresent();
        if (anyBit != register.isPresent()) {
            throw settings.refused(
                    "state_register",
                    anyBit
                            ? "bits are named, but not their register; add state_register"
                            : "none of its bits is named; add motion_bit, stable_bit, net_bit or"
                                    + " fault_mask, or leave it out");
        }
        return register.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        new RegisterScale.State(
                                register.getAsInt(),
                                moving.isPresent() ? moving : still,
                                moving.isPresent(),
                                net,
                                faults.orElse(0)));
    }

    private static Optional<RegisterScale.UnitName> unitName(PortSettings settings) {
        OptionalInt register = whole(settings, "unit_register", RegisterScale.REGISTER_MAX);
        OptionalInt value = whole(settings, "unit_value", MASK_MAX);
        if (register.isPresent() != value.isPresent()) {
            throw settings.refused(
                    "unit_value",
                    "unit_register and unit_value, what it holds while the unit is the set one,"
                            + " belong together; give both or neither");
        }
        return register.isEmpty()
                ? Optional.empty()
                : Optional.of(new RegisterScale.UnitName(register.getAsInt(), value.getAsInt()));
    }

    private static int needed(PortSettings settings, String key) {
        return whole(settings, key, RegisterScale.REGISTER_MAX)
                .orElseThrow(() ->
                        settings.refused(
                                key,
                                "the register of the weight is missing; take it from the"
                                        + " indicator's manual, counted from 0"));
    }

    /** A whole number from 0 that may be there. */
    private static OptionalInt whole(PortSettings settings, String key, int most) {
        int found = (int) settings.whole(key, 0, most, ABSENT);
        return found == ABSENT ? OptionalInt.empty() : OptionalInt.of(found);
    }

    private FunctionCode function() {
        return holding ? FunctionCode.READ_HOLDING_REGISTERS : FunctionCode.READ_INPUT_REGISTERS;
    }

    private byte[] question() {
        ByteBuffer question = ByteBuffer.allocate(QUESTION_BYTES);
        question.put((byte) station);
        if (holding) {
            ReadHoldingRegistersRequest.Serializer.encode(
                    new ReadHoldingRegistersRequest(scale.first(), count), question);
        } else {
            ReadInputRegistersRequest.Serializer.encode(
                    new ReadInputRegistersRequest(scale.first(), count), question);
        }
        int check = ModbusFramer.check(question.array(), question.position());
        return question.put((byte) check).put((byte) (check >>> 8)).array();
    }

    private Decoded<ScaleFrame> decode(String frame) {
        ByteBuffer answer = ByteBuffer.wrap(frame.getBytes(StandardCharsets.ISO_8859_1));
        if (answer.get(FUNCTION_AT) != function().getCode()) {
            int code = answer.get(FUNCTION_AT + 1) & 0xff;
            return new Decoded.Refused<>(
                    "the scale refuses with error "
                            + code
                            + ExceptionCode.from(code).map(known -> ", " + known).orElse("")
                            + "; see its manual for table and registers");
        }
        answer.position(FUNCTION_AT);
        byte[] bytes =
                holding
                        ? ReadHoldingRegistersResponse.Serializer.decode(answer).registers()
                        : ReadInputRegistersResponse.Serializer.decode(answer).registers();
        int[] registers = new int[count];
        for (int i = 0; i < count; i++) {
            registers[i] = (bytes[2 * i] & 0xff) << 8 | bytes[2 * i + 1] & 0xff;
        }
        return scale.decode(registers);
    }
}
