// Real input: the worked examples of the Modbus Application Protocol Specification V1.1b3, read as stations.
import { analogInputs, assemble, decode, digitalInputs, number, station } from "byterail";
import { fromHex } from "byterail/frames";

// 6.3, read holding registers 108 to 110: 03 06 | 02 2B 00 00 00 64
const registers = assemble(
  station({
    name: "registers",
    network: "modbus-tcp",
    modules: [analogInputs("holding", [number("r108", "uint16"), number("r109", "uint16"), number("r110", "uint16")])],
  }),
);
console.log("\nModbus 6.3, registers 108 to 110:", decode(registers.inputs, fromHex("02 2B 00 00 00 64")));

// 6.2, read discrete inputs 197 to 218: 02 03 | AC DB 35
const names = Array.from({ length: 22 }, (_, k) => `input${197 + k}`);
const discrete = assemble(
  station({ name: "discrete", network: "modbus-tcp", modules: [digitalInputs("inputs", names)] }),
);
const bits = Object.values(decode(discrete.inputs, fromHex("AC DB 35"))).map(Number);
console.log("Modbus 6.2, inputs 197 to 218:   ", bits.join(""));
