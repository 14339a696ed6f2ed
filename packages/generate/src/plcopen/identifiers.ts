/**
 * Identifiers of IEC 61131-3: case does not count, underlines neither end a name nor stand side by side (clause 6.1.2).
 * The reserved words are its keywords, elementary types and standard functions and blocks (from memory of edition 3).
 */
import { type NameTable, nameTable } from "../names.js";

const words = `
  abs abstract acos action add and andn any any_bit any_chars any_date any_derived any_duration any_elementary any_int
  any_magnitude any_num any_real any_signed any_string any_unsigned array asin at atan atan2 begin bool by byte cal calc
  calcn case char class concat configuration constant continue cos ctd ctu ctud date date_and_time delete dint div do dt
  dword else elsif end_action end_case end_class end_configuration end_for end_function end_function_block end_if
  end_interface end_method end_namespace end_program end_property end_repeat end_resource end_step end_struct
  end_transition end_type end_var end_while en eno eq exit exp expt extends f_edge f_trig false final find for from function
  function_block ge get gt if implements in initial_step insert int interface internal interval jmp jmpc jmpcn ld ldate ldn
  ldt le left len limit lint ln log lreal lt ltime ltod lword max method mid min mod move mul mux namespace ne non_retain
  not null of on or orn overlap override pointer priority private program property protected public r r1 r_edge r_trig
  read_only read_write real ref ref_to reference repeat replace resource ret retain retc retcn return right rol ror round rs
  s s1 sel set shl shr sin single sint sizeof sqrt sr st step stn string struct sub super tan task then this time
  time_of_day to tod tof ton tp transition true trunc type udint uint ulint until using usint var var_access var_config
  var_external var_global var_in_out var_input var_output var_temp wchar while with word wstring xor xorn`;

const reserved: ReadonlySet<string> = new Set(words.trim().split(/\s+/));

/** Room for a station, a direction and a point of the longest names (64); the standard leaves the limit to each system. */
const maxLength = 140;

/** Cleans names for one scope. */
export function identifiers(names: readonly string[], where: string): NameTable {
  const rules = {
    target: "PLCopen XML",
    reserved,
    case: "insensitive",
    maxLength,
    style: plainUnderlines,
    suffix: "_1",
  } as const;
  return nameTable(names, where, rules);
}

function plainUnderlines(name: string): string {
  return name.replace(/_+/g, "_").replace(/_$/, "");
}
